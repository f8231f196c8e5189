//! What stands between the network and the handlers: host, origin, session, rate limit, headers, log.

use std::collections::BTreeMap;
use std::net::{IpAddr, SocketAddr};
use std::time::{Duration, Instant};

use axum::RequestExt;
use axum::body::{Body, Bytes};
use axum::extract::{ConnectInfo, Path, Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use futures_util::StreamExt;
use serde::de::DeserializeOwned;

use super::app_state::AppState;
use super::connections::Paired;
use super::error::{PageError, Told};
use super::prefix::AddressPrefix;
use super::session::{Grant, Role, now_s};

/// The policy of the page: its own files and nothing else, no script or style in the markup.
pub const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; \
    connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; \
    frame-ancestors 'none'";
/// The policy of a report, which carries its style and pictures inside and has no script.
pub const REPORT_POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; media-src data:; font-src data:; \
    base-uri 'none'; form-action 'none'; frame-ancestors 'none'; sandbox allow-popups";

/// The largest JSON body.
const JSON_BYTES: usize = 16 * 1024;
/// How long a body may take.
const BODY_TIME: Duration = Duration::from_secs(15);

/// Who asks, once the guard has let them in.
#[derive(Debug, Clone)]
pub struct Visitor {
    /// Their address.
    pub address: IpAddr,
    /// What they may do; `None` for one who is not paired.
    pub grant: Option<Grant>,
}

/// Looks at every request before anything else does.
pub async fn watch(State(state): State<AppState>, mut request: Request, next: Next) -> Response {
    let address = request.extensions().get::<ConnectInfo<SocketAddr>>().map(|info| info.0.ip());
    let (method, path) = (request.method().clone(), request.uri().path().to_owned());
    // The name as the handlers get it, so that no spelling of an address shows another job.
    let named = request.extract_parts::<Path<BTreeMap<String, String>>>().await;
    let job = named.ok().and_then(|Path(mut parts)| parts.remove("job"));
    let mut response = match admit(&state, &request, job.as_deref(), address) {
        Ok(visitor) => {
            request.extensions_mut().insert(visitor);
            next.run(request).await
        }
        Err(error) => error.into_response(),
    };
    note(&state, address, &method, &path, &response);
    for (name, value) in [
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "no-referrer"),
        (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
        (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
        (HeaderName::from_static("permissions-policy"), "microphone=(self), camera=(), geolocation=()"),
    ] {
        response.headers_mut().insert(name, HeaderValue::from_static(value));
    }
    response.headers_mut().entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    response.headers_mut().entry(header::CONTENT_SECURITY_POLICY).or_insert(HeaderValue::from_static(POLICY));
    response
}

fn admit(
    state: &AppState,
    request: &Request,
    job: Option<&str>,
    address: Option<IpAddr>,
) -> Result<Visitor, PageError> {
    let headers = request.headers();
    check_host(state, request)?;
    check_origin(state, request.method(), headers)?;
    let address = address.ok_or_else(|| PageError::Inside("the connection has no address".to_owned()))?;
    let token = token_of(state, headers);
    let mut auth = state.auth();
    if !auth.rate_limit.allows(AddressPrefix::of(address), Instant::now()) {
        return Err(PageError::TooMuch { what: "too many requests: wait a moment" });
    }
    let grant = token.and_then(|token| auth.sessions.grant(&token, now_s()));
    drop(auth);
    if let (Some(_), Some(connection)) = (&grant, request.extensions().get::<Paired>()) {
        connection.tell();
    }
    let path = request.uri().path();
    let open = !path.starts_with("/api/")
        || matches!(path, "/api/pair" | "/api/session" | "/api/leave")
        || path.starts_with("/api/words/");
    match &grant {
        None if !open => Err(PageError::NotPaired),
        Some(grant) if !open && grant.role == Role::View && request.method() != Method::GET => Err(PageError::ReadOnly),
        // The same answer as for a job that is not there.
        Some(grant) if job.is_some_and(|job| !grant.covers(job)) => Err(PageError::not_found("this job")),
        _ => Ok(Visitor { address, grant }),
    }
}

/// A page of another site whose name was made to point here shows itself by its name.
fn check_host(state: &AppState, request: &Request) -> Result<(), PageError> {
    let told = request.headers().get(header::HOST).and_then(|host| host.to_str().ok());
    let one = request.headers().get_all(header::HOST).iter().count() == 1;
    match told {
        Some(told) if one && state.reach().hosts.iter().any(|host| host.eq_ignore_ascii_case(told)) => Ok(()),
        _ => Err(PageError::WrongHost),
    }
}

/// What changes something comes from our own page: browsers always say so, and scripts of other sites cannot lie.
fn check_origin(state: &AppState, method: &Method, headers: &HeaderMap) -> Result<(), PageError> {
    let site = headers.get("sec-fetch-site").and_then(|site| site.to_str().ok());
    // Following a link to the page is fine; being fetched or posted to by another site is not.
    let linked = headers.get("sec-fetch-mode").is_some_and(|mode| mode == "navigate") && *method == Method::GET;
    if !linked && site.is_some_and(|site| !matches!(site, "same-origin" | "none")) {
        return Err(PageError::ForeignOrigin);
    }
    match headers.get(header::ORIGIN) {
        Some(origin) => {
            let reach = state.reach();
            let own =
                |host: &String| origin.as_bytes().eq_ignore_ascii_case(format!("{}://{host}", reach.scheme).as_bytes());
            if reach.hosts.iter().any(own) { Ok(()) } else { Err(PageError::ForeignOrigin) }
        }
        None if *method == Method::GET || *method == Method::HEAD => Ok(()),
        None => Err(PageError::ForeignOrigin),
    }
}

/// The cookie's name. The prefix makes browsers hold it to this host and to TLS; browsers give one cookie to all ports of
/// a host, so its end names the folder.
pub fn cookie_name(state: &AppState) -> String {
    let prefix = if state.reach().is_secure() { "__Host-" } else { "" };
    format!("{prefix}hissward-{}", state.auth().sessions.place().short())
}

/// The session's token that a request brings.
pub fn token_of(state: &AppState, headers: &HeaderMap) -> Option<String> {
    let cookies = headers.get_all(header::COOKIE).iter().filter_map(|cookie| cookie.to_str().ok());
    let mut pairs = cookies.flat_map(|cookie| cookie.split(';')).filter_map(|pair| pair.trim().split_once('='));
    let own = cookie_name(state);
    pairs.find(|(name, _)| *name == own).map(|(_, token)| token.to_owned())
}

fn note(state: &AppState, address: Option<IpAddr>, method: &Method, path: &str, response: &Response) {
    if let Some(Told(why)) = response.extensions().get::<Told>() {
        let shown: String = path.chars().take(80).collect();
        state.log().line(address, &format!("refused {method} {shown}: {why}"));
    }
}

/// A body of limited size that has to arrive in time.
pub async fn body_of(body: Body, limit_bytes: usize) -> Result<Bytes, PageError> {
    let collected = async {
        let (mut stream, mut bytes) = (body.into_data_stream(), Vec::new());
        while let Some(block) = stream.next().await {
            let block = block.map_err(|_| PageError::unfit("the request broke off: it is sent again"))?;
            if bytes.len() + block.len() > limit_bytes {
                return Err(PageError::TooLarge { limit_bytes });
            }
            bytes.extend_from_slice(&block);
        }
        Ok(Bytes::from(bytes))
    };
    tokio::time::timeout(BODY_TIME, collected).await.map_err(|_| PageError::TooSlow)?
}

/// A JSON body, said to be one. No form of another site can say so.
pub async fn json_of<T: DeserializeOwned>(request: Request) -> Result<T, PageError> {
    let is_json = request.headers().get(header::CONTENT_TYPE).is_some_and(|kind| kind == "application/json");
    if !is_json {
        return Err(PageError::unfit("say it as application/json"));
    }
    let bytes = body_of(request.into_body(), JSON_BYTES).await?;
    serde_json::from_slice(&bytes).map_err(|error| PageError::unfit(format!("not understood: {error}")))
}

/// How fast one address may ask: a bucket that refills.
#[derive(Debug, Default)]
pub struct RateLimit {
    buckets: BTreeMap<AddressPrefix, (f64, Instant)>,
}

/// Requests a second, in the long run. A recording takes three.
const PER_S: f64 = 40.0;
/// Requests at once: a page with all its files, several times.
const BURST: f64 = 240.0;
/// Addresses remembered.
const MOST_ADDRESSES: usize = 1024;

impl RateLimit {
    /// Whether one more request of this address is taken now.
    pub fn allows(&mut self, address: AddressPrefix, now: Instant) -> bool {
        if self.buckets.len() >= MOST_ADDRESSES {
            // A full bucket says nothing that an absent one does not.
            self.buckets.retain(|_, (left, since)| *left + now.duration_since(*since).as_secs_f64() * PER_S < BURST);
        }
        let (left, since) = self.buckets.entry(address).or_insert((BURST, now));
        *left = (*left + now.duration_since(*since).as_secs_f64() * PER_S).min(BURST);
        *since = now;
        if *left < 1.0 {
            return false;
        }
        *left -= 1.0;
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flood_is_stopped_and_a_pause_lets_in_again() {
        let mut rate_limit = RateLimit::default();
        let at = |last| AddressPrefix::of(IpAddr::from([10, 0, 0, last]));
        let (one, other) = (at(1), at(2));
        let now = Instant::now();
        let let_in = (0..1_000).filter(|_| rate_limit.allows(one, now)).count();
        assert_eq!(let_in, BURST as usize);
        assert!(rate_limit.allows(other, now), "another address is not held up");
        let later = now + Duration::from_secs(1);
        assert_eq!((0..1_000).filter(|_| rate_limit.allows(one, later)).count(), PER_S as usize);
    }
}
