//! Sessions: who was paired, as what, until when, with which folder. Only hashes of their tokens are kept, also on disk,
//! so that a phone need not pair again when the program is started anew.
//!
//! Several pages may run at once, for one folder or several: the file is what all of them go by. Each looks into it before it
//! lets anybody in, and changes it under a lock.

use std::collections::BTreeMap;
use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use hissward::job::{Sha256, When};
use rand::RngExt;
use serde::{Deserialize, Serialize};

use super::place::write_private;

/// A working day.
pub const SESSION_LIFE_S: i64 = 12 * 3600;
/// The most sessions that work in one folder; the one that ends first makes room. Each was paired by a code.
const MOST_WORKING: usize = 64;
/// Another page changes the file within milliseconds.
const PATIENCE: Duration = Duration::from_millis(1_500);
/// Between two looks at the lock.
const PAUSE: Duration = Duration::from_millis(10);

/// What a session may do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Role {
    /// Everything.
    Work,
    /// Look at one job and its report.
    View,
}

/// What was given to whom came in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Grant {
    /// What they may do.
    pub role: Role,
    /// The one job that they may do it with; those who work have all.
    only: Option<String>,
}

impl Grant {
    /// Everything.
    pub fn work() -> Self {
        Self { role: Role::Work, only: None }
    }

    /// Looking at one job: a customer's neighbour is nobody's business.
    pub fn view(job: &str) -> Self {
        Self { role: Role::View, only: Some(job.to_owned()) }
    }

    /// Whether this job is theirs to see.
    pub fn covers(&self, job: &str) -> bool {
        self.role == Role::Work || self.only.as_deref() == Some(job)
    }
}

/// Which folder a page serves, as text that differs from that of any other folder.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct FolderIdentity(String);

impl FolderIdentity {
    /// The identity of a folder: where it is, and which one it is of those that may have been there.
    pub fn of(folder: &Path) -> io::Result<Self> {
        let path = folder.canonicalize()?;
        let mut told = path.as_os_str().as_encoded_bytes().to_vec();
        #[cfg(unix)]
        {
            use std::os::unix::fs::MetadataExt;
            let about = path.metadata()?;
            told.extend(about.dev().to_le_bytes());
            told.extend(about.ino().to_le_bytes());
        }
        Ok(Self(Sha256::of(&told).to_string()))
    }

    /// Enough of it to tell the folders of one person apart.
    pub fn short(&self) -> &str {
        &self.0[..12]
    }
}

/// The session of a device that works.
#[derive(Debug, Clone, Serialize, Deserialize)]
struct Working {
    folder: FolderIdentity,
    ends_s: i64,
}

/// A customer's link, and the one session that all who come by it share.
#[derive(Debug, Clone, Serialize, Deserialize)]
struct CustomerLink {
    folder: FolderIdentity,
    job: String,
    session: String,
    opened: bool,
    ends_s: i64,
}

/// The file: sessions by the hash of their token, links by the hash of their secret.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(default)]
struct Table {
    working: BTreeMap<String, Working>,
    links: BTreeMap<String, CustomerLink>,
}

/// All sessions there are.
#[derive(Debug)]
pub struct Sessions {
    folder: FolderIdentity,
    table: Table,
    // None where nothing can be kept: then devices pair again after a restart.
    file: Option<PathBuf>,
}

impl Sessions {
    /// The sessions of a folder, as kept in a file; an unreadable file means that devices pair again.
    pub fn of(folder: FolderIdentity, file: Option<PathBuf>) -> Self {
        Self { folder, table: Table::default(), file }
    }

    /// The folder that they are good for.
    pub fn place(&self) -> &FolderIdentity {
        &self.folder
    }

    /// Starts a session of a device that was paired; its token goes to the browser and is not kept.
    pub fn start(&mut self, now_s: i64) -> String {
        let token = secret();
        let folder = self.folder.clone();
        self.change(now_s, |table| {
            let own = |table: &Table| table.working.values().filter(|session| session.folder == folder).count();
            while own(table) >= MOST_WORKING {
                let own = table.working.iter().filter(|(_, session)| session.folder == folder);
                let first = own.min_by_key(|(_, session)| session.ends_s).map(|(hash, _)| hash.clone());
                first.map(|first| table.working.remove(&first));
            }
            let session = Working { folder: folder.clone(), ends_s: now_s + SESSION_LIFE_S };
            table.working.insert(hash_of(&token), session);
        });
        token
    }

    /// What the holder of a token may do here; `None` where it is not known or has ended.
    pub fn grant(&mut self, token: &str, now_s: i64) -> Option<Grant> {
        self.look();
        let hash = hash_of(token);
        if let Some(session) = self.table.working.get(&hash) {
            return (session.folder == self.folder && session.ends_s > now_s).then(Grant::work);
        }
        let link = self.table.links.values().find(|link| link.session == hash)?;
        (link.folder == self.folder && link.opened && link.ends_s > now_s).then(|| Grant::view(&link.job))
    }

    /// Ends a session; one by a customer's link, for all who came by it, until somebody comes by it again.
    pub fn end(&mut self, token: &str) {
        let hash = hash_of(token);
        self.change(now_s(), |table| {
            table.working.remove(&hash);
            for link in table.links.values_mut().filter(|link| link.session == hash) {
                link.opened = false;
            }
        });
    }

    /// A new secret for the link of a job's customer; an earlier one ends, and with it what was opened through it.
    pub fn new_link(&mut self, job: &str, now_s: i64) -> String {
        let made = secret();
        let folder = self.folder.clone();
        self.change(now_s, |table| {
            table.links.retain(|_, link| link.folder != folder || link.job != job);
            let link = CustomerLink {
                folder: folder.clone(),
                job: job.to_owned(),
                session: hash_of(&viewing_token(&made)),
                opened: false,
                ends_s: now_s + SESSION_LIFE_S,
            };
            table.links.insert(hash_of(&made), link);
        });
        made
    }

    /// Ends the link of a job's customer, and what was opened through it; says whether there was one.
    pub fn end_link(&mut self, job: &str) -> bool {
        let folder = self.folder.clone();
        self.change(now_s(), |table| {
            let before = table.links.len();
            table.links.retain(|_, link| link.folder != folder || link.job != job);
            table.links.len() < before
        })
    }

    /// Comes in by a customer's link: its session's token, always the same one, so that coming again makes no further
    /// session. `None` where this is no link's secret.
    pub fn open_link(&mut self, typed: &str, now_s: i64) -> Option<String> {
        self.look();
        let hash = hash_of(typed);
        let link = self.table.links.get(&hash).filter(|link| link.folder == self.folder && link.ends_s > now_s)?;
        if !link.opened {
            self.change(now_s, |table| {
                if let Some(link) = table.links.get_mut(&hash) {
                    link.opened = true;
                }
            });
        }
        Some(viewing_token(typed))
    }

    /// Sees what other pages have changed.
    fn look(&mut self) {
        if let Some(file) = &self.file {
            match read(file) {
                Ok(table) => self.table = table,
                // Somebody took the file away to end all sessions.
                Err(error) if error.kind() == io::ErrorKind::NotFound => self.table = Table::default(),
                Err(_) => self.file = None,
            }
        }
    }

    /// Makes a change to what is there now, and keeps it.
    fn change<T>(&mut self, now_s: i64, change: impl FnOnce(&mut Table) -> T) -> T {
        let lock = self.file.as_deref().map(locked);
        self.look();
        self.table.working.retain(|_, session| session.ends_s > now_s);
        self.table.links.retain(|_, link| link.ends_s > now_s);
        let done = change(&mut self.table);
        if let (Some(file), Some(lock)) = (&self.file, lock) {
            let text = serde_json::to_vec_pretty(&self.table).map_err(io::Error::other);
            let kept = lock.and_then(|_lock| text.and_then(|text| write_private(file, &text)));
            // Where it cannot be kept, devices pair again after a restart: no reason to refuse them now.
            if kept.is_err() {
                self.file = None;
            }
        }
        done
    }
}

fn read(file: &Path) -> io::Result<Table> {
    Ok(serde_json::from_str(&fs::read_to_string(file)?).unwrap_or_default())
}

/// Holds the right to change the file; given back when dropped.
fn locked(file: &Path) -> io::Result<File> {
    let lock = File::options().create(true).truncate(false).write(true).open(file.with_extension("lock"))?;
    let until = Instant::now() + PATIENCE;
    loop {
        match lock.try_lock() {
            Ok(()) => return Ok(lock),
            Err(TryLockError::Error(error)) => return Err(error),
            Err(TryLockError::WouldBlock) if Instant::now() >= until => {
                return Err(io::Error::new(io::ErrorKind::TimedOut, "another page holds the sessions"));
            }
            Err(TryLockError::WouldBlock) => std::thread::sleep(PAUSE),
        }
    }
}

/// The token that belongs to a link: whoever has the link has the session, and the other way round nobody.
fn viewing_token(secret: &str) -> String {
    Sha256::of(format!("viewing session of {secret}").as_bytes()).to_string()
}

/// 256 random bits, as text.
pub fn secret() -> String {
    let bytes: [u8; 32] = rand::rng().random();
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn hash_of(token: &str) -> String {
    Sha256::of(token.as_bytes()).to_string()
}

/// Seconds since 1970 on this machine's clock.
pub fn now_s() -> i64 {
    When::now().timestamp().as_second()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn identity(name: &str) -> FolderIdentity {
        FolderIdentity(Sha256::of(name.as_bytes()).to_string())
    }

    fn sessions(file: Option<&Path>) -> Sessions {
        Sessions::of(identity("jobs"), file.map(Path::to_owned))
    }

    #[test]
    fn a_session_ends_and_survives_a_restart() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("sessions.json");
        let mut first = sessions(Some(&file));
        let token = first.start(now_s());
        assert_eq!(first.grant(&token, now_s() + SESSION_LIFE_S - 9), Some(Grant::work()));
        assert_eq!(first.grant(&token, now_s() + SESSION_LIFE_S), None);
        let mut again = sessions(Some(&file));
        assert_eq!(again.grant(&token, now_s()), Some(Grant::work()));
        let text = fs::read_to_string(&file).expect("kept");
        assert!(!text.contains(&token), "only the hash is kept");
        again.end(&token);
        assert_eq!(first.grant(&token, now_s()), None, "ended at one page is ended at the other");
    }

    #[test]
    fn a_session_of_one_folder_is_none_of_another() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("sessions.json");
        let (mut here, mut there) = (sessions(Some(&file)), Sessions::of(identity("other"), Some(file.clone())));
        let (token, link) = (here.start(now_s()), here.new_link("gull", now_s()));
        let viewing = here.open_link(&link, now_s()).expect("a link");
        assert_eq!(here.grant(&viewing, now_s()), Some(Grant::view("gull")));
        assert_eq!((there.grant(&token, now_s()), there.grant(&viewing, now_s())), (None, None));
        assert_eq!(there.open_link(&link, now_s()), None);
        // And what one page keeps, the other does not lose.
        there.start(now_s());
        assert_eq!(here.grant(&token, now_s()), Some(Grant::work()));
    }

    #[test]
    fn another_folder_at_the_same_place_is_another() {
        let folder = tempfile::tempdir().expect("a folder");
        let (path, moved) = (folder.path().join("jobs"), folder.path().join("moved"));
        fs::create_dir(&path).expect("made");
        let first = FolderIdentity::of(&path).expect("an identity");
        assert_eq!(FolderIdentity::of(&path.join(".")).expect("an identity"), first);
        fs::rename(&path, &moved).expect("moved");
        fs::create_dir(&path).expect("made");
        assert_ne!(FolderIdentity::of(&moved).expect("an identity"), first);
        if cfg!(unix) {
            assert_ne!(FolderIdentity::of(&path).expect("an identity"), first);
        }
    }

    #[test]
    fn customers_never_make_those_who_work_leave() {
        let mut sessions = sessions(None);
        let working = sessions.start(100);
        let link = sessions.new_link("gull", 100);
        let tokens: Vec<String> = (0..1_000).filter_map(|at| sessions.open_link(&link, 100 + at)).collect();
        assert_eq!(tokens.len(), 1_000);
        assert!(tokens.iter().all(|token| *token == tokens[0]), "one link, one session");
        assert_eq!(sessions.grant(&working, 1_100), Some(Grant::work()));
        assert_eq!((sessions.table.working.len(), sessions.table.links.len()), (1, 1));
    }

    #[test]
    fn of_those_who_work_the_oldest_makes_room() {
        let mut sessions = sessions(None);
        let first = sessions.start(0);
        for at in 1..=MOST_WORKING as i64 {
            sessions.start(at);
        }
        assert_eq!(sessions.grant(&first, 100), None);
        assert_eq!(sessions.table.working.len(), MOST_WORKING);
    }

    #[test]
    fn a_customers_session_ends_with_its_link() {
        let mut sessions = sessions(None);
        assert_eq!(sessions.open_link("", now_s()), None);
        let first = sessions.new_link("gull", now_s());
        let viewing = sessions.open_link(&first, now_s()).expect("a link");
        let other = sessions.new_link("tern", now_s());
        assert_eq!(sessions.grant(&viewing, now_s()), Some(Grant::view("gull")), "another job's is another link");
        let second = sessions.new_link("gull", now_s());
        assert_eq!((sessions.grant(&viewing, now_s()), sessions.open_link(&first, now_s())), (None, None));
        let viewing = sessions.open_link(&second, now_s()).expect("a link");
        assert!(sessions.end_link("gull") && !sessions.end_link("gull"));
        assert_eq!((sessions.grant(&viewing, now_s()), sessions.open_link(&second, now_s())), (None, None));
        assert!(sessions.open_link(&other, now_s()).is_some());
        assert_eq!(sessions.open_link(&other, now_s() + SESSION_LIFE_S + 9), None, "a working day");
    }

    #[test]
    fn pages_side_by_side_lose_no_session() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("sessions.json");
        let started: Vec<String> = std::thread::scope(|scope| {
            let pages: Vec<_> = (0..4)
                .map(|_| scope.spawn(|| (0..8).map(|_| sessions(Some(&file)).start(now_s())).collect::<Vec<_>>()))
                .collect();
            pages.into_iter().flat_map(|page| page.join().expect("no page fails")).collect()
        });
        let mut all = sessions(Some(&file));
        assert_eq!(started.iter().filter(|token| all.grant(token, now_s()).is_some()).count(), 32);
    }

    #[test]
    fn a_customer_sees_one_job_and_who_works_sees_all() {
        assert!(Grant::view("gull").covers("gull") && !Grant::view("gull").covers("tern"));
        assert!(Grant::work().covers("gull") && Grant::work().covers("tern"));
    }
}
