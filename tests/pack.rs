//! Packs: any byte altered is named, other programs read them, nothing escapes from them.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use assert_cmd::cargo::cargo_bin_cmd;
use hissward::job::{Job, JobRecord, JobWriter, Subject, When};
use hissward::opening::Air;
use hissward::pack::{
    Difference, PackError, PublicKey, Signature, SigningKey, pack, unpack, verify_against, verify_folder, verify_pack,
};
use hissward::pipeline::{Channels, take_in};

fn now() -> When {
    "2026-11-25T09:15:00+01:00[Europe/Berlin]".parse().expect("a moment")
}

/// A tiny job with two clips and a result, in a folder that goes when the test ends.
fn job() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("gull");
    let record = JobRecord { engine: "Workboat Gull".to_owned(), cylinders: 3, ..JobRecord::default() };
    let mut writer = JobWriter::create(&path, record, "test").expect("a job");
    for (air, level) in [(Air::Off, 10), (Air::On, 900)] {
        let source = folder.path().join("outside.wav");
        let spec = hound::WavSpec {
            channels: 1,
            sample_rate: 8000,
            bits_per_sample: 16,
            sample_format: hound::SampleFormat::Int,
        };
        let mut wav = hound::WavWriter::create(&source, spec).expect("a file");
        (0..40).for_each(|n| wav.write_sample::<i16>((n % 7) * level).expect("a sample"));
        wav.finalize().expect("a whole file");
        let subject = Subject { cylinder: Some(2), opening: "exhaust".parse().expect("a name"), air };
        take_in(&mut writer, &[source], &subject, Channels::default(), &now(), &mut |_, _, _| {}).expect("taken in");
    }
    writer.write_result("ranking.json", b"{}\n").expect("a result");
    (folder, path)
}

fn packed(job: &Path, key: Option<&SigningKey>) -> PathBuf {
    let to = job.with_extension("zip");
    pack(&Job::open(job).expect("a job"), &to, key, &now()).expect("a pack").path
}

fn key(folder: &Path) -> SigningKey {
    SigningKey::make(&folder.join("signing.key"), &folder.join("signing.pub")).expect("a key")
}

#[test]
fn any_byte_altered_is_named() {
    let (folder, job) = job();
    let own = key(folder.path());
    let path = packed(&job, Some(&own));
    let whole = fs::read(&path).expect("a pack");
    let found = verify_pack(&path, None).expect("verified");
    assert!(found.intact() && matches!(found.signature, Signature::OwnKey { .. }), "{found:?}");
    let broken = folder.path().join("broken.zip");
    for at in 0..whole.len() {
        let mut bytes = whole.clone();
        bytes[at] ^= 1 << (at % 8);
        fs::write(&broken, &bytes).expect("written");
        match verify_pack(&broken, None) {
            Ok(found) => assert!(!found.intact(), "byte {at} of {}", whole.len()),
            Err(error) => panic!("byte {at}: {error}"),
        }
    }
    for cut in [whole.len() - 1, whole.len() / 2] {
        fs::write(&broken, &whole[..cut]).expect("written");
        assert!(verify_pack(&broken, None).is_ok_and(|found| !found.intact()), "cut at {cut}");
    }
    fs::write(&broken, [&whole[..], b"x"].concat()).expect("written");
    let longer = verify_pack(&broken, None).expect("verified");
    assert_eq!(longer.differences, [Difference::Structure(whole.len() as u64)]);
}

#[test]
fn a_clip_altered_in_a_pack_is_named_by_its_file() {
    let (_folder, job) = job();
    let path = packed(&job, None);
    let mut bytes = fs::read(&path).expect("a pack");
    let clip = fs::read(job.join("clips/c2-exhaust-on-t1.wav")).expect("a clip");
    let at = bytes.windows(clip.len()).position(|part| part == clip).expect("the clip is stored");
    bytes[at + 50] ^= 1;
    fs::write(&path, bytes).expect("written");
    let found = verify_pack(&path, None).expect("verified");
    assert_eq!(found.differences, [Difference::Altered("clips/c2-exhaust-on-t1.wav".to_owned())]);
    let run = cargo_bin_cmd!("hissward").arg("verify").arg(&path).assert().code(1);
    let said = String::from_utf8(run.get_output().stdout.clone()).expect("UTF-8");
    assert!(said.contains("altered: clips/c2-exhaust-on-t1.wav"), "{said}");
    // What is altered is not unpacked.
    let to = job.with_file_name("out");
    assert!(!unpack(&path, &to, None).expect("looked at").intact() && !to.exists());
}

#[test]
fn other_programs_read_a_pack() {
    let (folder, job) = job();
    let path = packed(&job, Some(&key(folder.path())));
    let mut archive = zip::ZipArchive::new(fs::File::open(&path).expect("a pack")).expect("a zip");
    let names: Vec<String> = archive.file_names().map(|name| name.expect("a name").into_owned()).collect();
    let wanted = [
        "MANIFEST.sha256",
        "MANIFEST.sha256.minisig",
        "clips/c2-exhaust-off-t1.wav",
        "clips/c2-exhaust-on-t1.wav",
        "job.toml",
        "results/ranking.json",
        "signing.pub",
    ];
    assert_eq!(names, wanted);
    // The second reader checks each file's CRC while it copies.
    let out = folder.path().join("unzipped");
    archive.extract(&out).expect("extracted");
    assert_eq!(fs::read(out.join("job.toml")).expect("a file"), fs::read(job.join("job.toml")).expect("a file"));
    let sums = Command::new("sha256sum").args(["-c", "--strict", "MANIFEST.sha256"]).current_dir(&out).output();
    let sums = sums.expect("sha256sum (coreutils)");
    assert!(sums.status.success(), "{}", String::from_utf8_lossy(&sums.stderr));
    assert!(verify_folder(&out, None).expect("verified").intact());
    // The same job again: same record, same clips.
    let again = Job::open(&out).expect("a job");
    assert_eq!(again.record(), Job::open(&job).expect("a job").record());
}

#[test]
fn the_same_job_gives_the_same_pack_and_never_overwrites_another() {
    let (folder, job) = job();
    let first = fs::read(packed(&job, None)).expect("a pack");
    let to = job.with_extension("zip");
    let opened = Job::open(&job).expect("a job");
    assert!(pack(&opened, &to, None, &now()).expect("a pack").was_there);
    let other = folder.path().join("other.zip");
    pack(&opened, &other, None, &now()).expect("a pack");
    assert_eq!(fs::read(&other).expect("a pack"), first);
    fs::write(job.join("results/ranking.json"), "{ }").expect("written");
    assert!(matches!(pack(&opened, &to, None, &now()), Err(PackError::Exists { .. })));
    assert_eq!(fs::read(&to).expect("a pack"), first, "the first pack stays");
    let left: Vec<_> = fs::read_dir(folder.path()).expect("listed").filter_map(Result::ok).collect();
    assert!(left.iter().all(|file| !file.file_name().to_string_lossy().starts_with('.')), "{left:?}");
}

#[test]
fn signatures_prove_the_key_and_nothing_else() {
    let (folder, job) = job();
    let own = key(folder.path());
    let elsewhere = tempfile::tempdir().expect("a folder");
    let other = key(elsewhere.path());
    let path = packed(&job, Some(&own));
    let found = verify_pack(&path, Some(own.public())).expect("verified");
    assert!(matches!(found.signature, Signature::AskedKey { .. }), "{found:?}");
    let wrong = verify_pack(&path, Some(other.public())).expect("verified");
    assert!(matches!(wrong.differences[..], [Difference::Signature(_)]), "{wrong:?}");
    let unsigned = job.with_extension("plain.zip");
    pack(&Job::open(&job).expect("a job"), &unsigned, None, &now()).expect("a pack");
    assert!(!verify_pack(&unsigned, Some(own.public())).expect("verified").intact());
    // A forger who makes everything anew with another key is found by who knows the shop's.
    let forged = job.with_extension("forged.zip");
    pack(&Job::open(&job).expect("a job"), &forged, Some(&other), &now()).expect("a pack");
    assert!(verify_pack(&forged, None).expect("verified").intact());
    assert!(!verify_pack(&forged, Some(own.public())).expect("verified").intact());
    // A key is never overwritten.
    let secret = folder.path().join("signing.key");
    assert!(matches!(SigningKey::make(&secret, &folder.path().join("p")), Err(PackError::Exists { .. })));
    assert!(PublicKey::of_text("no key").is_err());
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let rights = fs::metadata(&secret).expect("a file").permissions().mode();
        assert_eq!(rights & 0o077, 0, "the secret key is its owner's alone");
    }
}

#[test]
fn folders_are_verified_too() {
    let (folder, job) = job();
    assert!(verify_folder(&job, None).expect("verified").intact());
    let out = folder.path().join("again");
    assert!(unpack(&packed(&job, None), &out, None).expect("unpacked").intact());
    assert!(verify_folder(&out, None).expect("verified").intact());
    let clip = out.join("clips/c2-exhaust-on-t1.wav");
    let mut bytes = fs::read(&clip).expect("a clip");
    bytes[60] ^= 1;
    fs::write(&clip, bytes).expect("written");
    fs::write(out.join("results/extra.txt"), "x").expect("written");
    fs::remove_file(out.join("results/ranking.json")).expect("removed");
    let found = verify_folder(&out, None).expect("verified");
    let wanted = [
        Difference::Altered("clips/c2-exhaust-on-t1.wav".to_owned()),
        Difference::Missing("results/ranking.json".to_owned()),
        Difference::Added("results/extra.txt".to_owned()),
    ];
    assert_eq!(found.differences, wanted);
    // What is not as it was recorded is not packed.
    let to = folder.path().join("no.zip");
    assert!(matches!(pack(&Job::open(&out).expect("a job"), &to, None, &now()), Err(PackError::NotAsRecorded { .. })));
    assert!(!to.exists());
    // A manifest that is no text any more is altered, not missing.
    fs::write(out.join("MANIFEST.sha256"), [0xff, 0xfe, 0x00]).expect("written");
    let found = verify_folder(&out, None).expect("verified").differences;
    assert!(matches!(found[..], [Difference::Manifest(_), ..]), "{found:?}");
}

/// A zip as a stranger would make it.
fn foreign(path: &Path, files: &[(&str, &[u8])]) {
    let mut writer = zip::ZipWriter::new(fs::File::create(path).expect("a file"));
    for (name, content) in files {
        let options = zip::write::SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored);
        writer.start_file(*name, options).expect("a name");
        std::io::Write::write_all(&mut writer, content).expect("content");
    }
    writer.finish().expect("an end");
}

#[test]
fn hostile_packs_reach_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("evil.zip");
    let names = [
        "../evil",
        "/tmp/evil",
        "clips/../../evil",
        "clips\\..\\evil",
        "C:evil",
        "clips/.evil",
        "a/b/c",
        "clips/\u{1b}[2J",
    ];
    for name in names {
        foreign(&path, &[("MANIFEST.sha256", b"# hissward evidence, format 1\n"), (name, b"x")]);
        let out = folder.path().join("out");
        match unpack(&path, &out, None) {
            Ok(found) => assert!(!found.intact(), "{name}"),
            Err(error) => assert!(matches!(error, PackError::NoPack { .. }), "{name}: {error}"),
        }
        assert!(!out.exists() && !folder.path().join("evil").exists(), "{name}");
    }
    // Sizes that promise more than there is are no reason to reserve anything.
    let (_job, job) = job();
    let mut bomb = fs::read(packed(&job, None)).expect("a pack");
    bomb[18..26].copy_from_slice(&[0xff; 8]);
    fs::write(&path, bomb).expect("written");
    // Its end still shows that it was a pack.
    let found = verify_pack(&path, None).expect("verified");
    assert_eq!(found.differences, [Difference::Structure(0)]);
    for content in [&b""[..], b"PK", b"PK\x05\x06", b"no zip at all, and longer than a header would be"] {
        fs::write(&path, content).expect("written");
        let run = cargo_bin_cmd!("hissward").arg("verify").arg(&path).assert().code(2);
        let said = String::from_utf8_lossy(&run.get_output().stderr).into_owned();
        assert!(said.contains("evil.zip"), "{said}");
    }
}

#[test]
fn a_stranger_s_zip_and_a_pack_without_its_ends_are_no_packs() {
    let (folder, job) = job();
    let whole = fs::read(packed(&job, None)).expect("a pack");
    let path = folder.path().join("other.zip");
    // Altered at both ends, nothing shows what it was.
    let mut both = whole.clone();
    both[0] ^= 1;
    let last = both.len() - 22;
    both[last] ^= 1;
    fs::write(&path, both).expect("written");
    assert!(matches!(verify_pack(&path, None), Err(PackError::NoPack { .. })));
    // A zip of another program, altered in its first byte, has a directory that no pack has.
    foreign(&path, &[("MANIFEST.sha256", b"# hissward evidence, format 1\n"), ("job.toml", b"x")]);
    let mut other = fs::read(&path).expect("a zip");
    other[0] ^= 1;
    fs::write(&path, other).expect("written");
    assert!(matches!(verify_pack(&path, None), Err(PackError::NoPack { .. })));
}

#[test]
fn what_is_being_recorded_is_no_part_of_a_pack() {
    let (folder, job) = job();
    let before = fs::read(packed(&job, None)).expect("a pack");
    fs::write(job.join("clips/c2-exhaust-on-t2.wav.part"), "half a clip").expect("written");
    let to = folder.path().join("second.zip");
    pack(&Job::open(&job).expect("a job"), &to, None, &now()).expect("a pack");
    assert_eq!(fs::read(&to).expect("a pack"), before);
    assert!(verify_folder(&job, None).expect("verified").intact());
}

#[test]
fn a_folder_is_held_against_the_pack_made_of_it() {
    let (folder, job) = job();
    let path = packed(&job, Some(&key(folder.path())));
    let run = |arguments: &[&str], code: i32| {
        let mut command = cargo_bin_cmd!("hissward");
        let run = command.current_dir(folder.path()).args(arguments).assert().code(code);
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("UTF-8");
        (text(&run.get_output().stdout), text(&run.get_output().stderr))
    };
    assert!(verify_against(&job, &path, None).expect("verified").intact());
    fs::rename(&path, folder.path().join("gull-pack.zip")).expect("moved");
    let (said, talk) = run(&["verify", "gull"], 0);
    assert_eq!(said, "gull: 2 clips are as job.toml says\n");
    assert!(talk.contains("Not checked: job.toml itself"), "{talk}");
    assert!(talk.ends_with("hissward verify gull --against gull-pack.zip\n"), "{talk}");
    // A clip laid into the folder is seen without a pack; one that job.toml was made to list is not.
    fs::write(job.join("clips/c2-exhaust-on-t9.wav"), "x").expect("written");
    let (said, _) = run(&["verify", "gull"], 1);
    assert!(said.starts_with("added: clips/c2-exhaust-on-t9.wav\n"), "{said}");
    fs::remove_file(job.join("clips/c2-exhaust-on-t9.wav")).expect("removed");
    let record = fs::read_to_string(job.join("job.toml")).expect("a record");
    let by_hand = "\n[[gauge]]\ncylinder = 2\nloss_percent = 3.0\n";
    fs::write(job.join("job.toml"), format!("{record}{by_hand}")).expect("written");
    fs::remove_file(job.join("results/ranking.json")).expect("removed");
    run(&["verify", "gull"], 0);
    let (said, _) = run(&["verify", "gull", "--against", "gull-pack.zip"], 1);
    assert!(said.starts_with("altered: job.toml\nmissing: results/ranking.json\ngull: NOT as in"), "{said}");
    // A pack that is itself altered proves nothing.
    let mut bytes = fs::read(folder.path().join("gull-pack.zip")).expect("a pack");
    bytes[200] ^= 1;
    fs::write(folder.path().join("gull-pack.zip"), bytes).expect("written");
    let (_, talk) = run(&["verify", "gull", "--against", "gull-pack.zip"], 2);
    assert!(talk.contains("not intact"), "{talk}");
}

#[cfg(unix)]
#[test]
fn links_are_not_followed() {
    let (_folder, job) = job();
    std::os::unix::fs::symlink("/etc/hostname", job.join("results/link.txt")).expect("a link");
    let to = job.with_extension("zip");
    assert!(matches!(pack(&Job::open(&job).expect("a job"), &to, None, &now()), Err(PackError::Unfit { .. })));
    assert!(!to.exists());
}

#[test]
fn settings_keys_and_packs_work_together_on_the_command_line() {
    let (folder, job) = job();
    let run = |arguments: &[&str]| {
        let mut command = cargo_bin_cmd!("hissward");
        command.env("XDG_CONFIG_HOME", folder.path().join("config")).current_dir(folder.path()).args(arguments);
        command.assert()
    };
    let said =
        |arguments: &[&str]| String::from_utf8(run(arguments).success().get_output().stdout.clone()).expect("UTF-8");
    assert!(said(&["settings"]).contains("Nothing is set yet"));
    let shown = said(&["settings", "--name", "Pier Yard", "--paper", "letter"]);
    assert!(shown.contains("settings.toml") && shown.contains("name = \"Pier Yard\""), "{shown}");
    run(&["settings", "--paper", "a5"]).code(2);
    run(&["settings", "--language", "xx"]).code(2);
    run(&["settings", "--logo", "gull/job.toml"]).code(2);
    run(&["settings", "--make-key"]).success();
    run(&["settings", "--make-key"]).code(2);
    assert_eq!(said(&["pack", "gull"]), "gull-pack.zip\n");
    let public = folder.path().join("config/hissward/signing.pub");
    let verified = said(&["verify", "gull-pack.zip", "--key", &public.display().to_string()]);
    assert!(verified.contains("intact") && verified.contains("that you gave"), "{verified}");
    assert_eq!(said(&["unpack", "gull-pack.zip", "--out", "again"]), "again\n");
    run(&["unpack", "gull-pack.zip", "--out", "again"]).code(2);
    let json = said(&["verify", "again", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(json["intact"], true);
    assert!(job.is_dir());
}
