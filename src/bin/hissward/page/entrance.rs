//! Coming in: by the pairing code, by the customer's link; going out.

use std::time::Instant;

use axum::Json;
use axum::extract::{Extension, Path, Request, State};
use axum::http::{HeaderMap, HeaderValue, header};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use serde_json::{Value, json};

use super::app_state::AppState;
use super::error::PageError;
use super::guard::{Visitor, cookie_name, json_of, token_of};
use super::pairing::{Attempt, as_shown};
use super::prefix::AddressPrefix;
use super::qr;
use super::session::{Role, SESSION_LIFE_S, now_s};

/// What was typed, or came in the address after `#`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Typed {
    code: Option<String>,
    view: Option<String>,
}

/// `POST /api/pair`.
pub async fn pair(
    State(state): State<AppState>,
    Extension(visitor): Extension<Visitor>,
    request: Request,
) -> Result<Response, PageError> {
    let typed: Typed = json_of(request).await?;
    let by_link = typed.view.as_deref().and_then(|view| state.auth().sessions.open_link(view, now_s()));
    let (role, token) = match (typed, by_link) {
        (Typed { code: Some(code), view: None }, _) => {
            attempt(&state, &visitor, &code)?;
            (Role::Work, state.auth().sessions.start(now_s()))
        }
        (Typed { code: None, .. }, Some(token)) => (Role::View, token),
        // Guessing 256 bits is hopeless, still it counts as a wrong code.
        _ => return Err(attempt(&state, &visitor, "").err().unwrap_or(PageError::WrongCode)),
    };
    let what = if role == Role::Work { "paired" } else { "came by the customer's link, may only look" };
    state.log().line(Some(visitor.address), what);
    if role == Role::Work {
        let next = state.auth().pairing.code(Instant::now());
        state.log().line(None, &format!("the code for a further device is {}", as_shown(&next)));
    }
    let mut response = Json(json!({ "role": role })).into_response();
    let secure = if state.reach().is_secure() { "; Secure" } else { "" };
    let cookie =
        format!("{}={token}; Path=/; Max-Age={SESSION_LIFE_S}; HttpOnly; SameSite=Strict{secure}", cookie_name(&state));
    let cookie = HeaderValue::from_str(&cookie).map_err(|error| PageError::Inside(error.to_string()))?;
    response.headers_mut().insert(header::SET_COOKIE, cookie);
    Ok(response)
}

fn attempt(state: &AppState, visitor: &Visitor, code: &str) -> Result<(), PageError> {
    match state.auth().pairing.attempt(code, AddressPrefix::of(visitor.address), Instant::now()) {
        Attempt::Paired => Ok(()),
        Attempt::Wrong => Err(PageError::WrongCode),
        Attempt::Locked { left } => Err(PageError::Locked { seconds: left.as_secs() + 1 }),
    }
}

/// `GET /api/session`: what the visitor may do.
pub async fn session(Extension(visitor): Extension<Visitor>) -> Json<Value> {
    Json(json!({ "role": visitor.grant.map(|grant| grant.role), "version": env!("CARGO_PKG_VERSION") }))
}

/// `POST /api/leave`: ends the session.
pub async fn leave(State(state): State<AppState>, headers: HeaderMap) -> Result<Response, PageError> {
    if let Some(token) = token_of(&state, &headers) {
        state.auth().sessions.end(&token);
    }
    let mut response = Json(json!({})).into_response();
    let secure = if state.reach().is_secure() { "; Secure" } else { "" };
    let cookie = format!("{}=; Path=/; Max-Age=0; HttpOnly; SameSite=Strict{secure}", cookie_name(&state));
    let cookie = HeaderValue::from_str(&cookie).map_err(|error| PageError::Inside(error.to_string()))?;
    response.headers_mut().insert(header::SET_COOKIE, cookie);
    Ok(response)
}

/// `POST /api/further-device`: address and code for one more, as text and QR code.
pub async fn further_device(State(state): State<AppState>) -> Json<Value> {
    let code = state.auth().pairing.code(Instant::now());
    let address = state.reach().address.clone();
    let link = format!("{address}/#{code}");
    Json(json!({ "address": address, "code": as_shown(&code), "link": link, "qr": qr::as_svg(&link) }))
}

/// `POST /api/jobs/{job}/customer-link`: a link that only looks, at this job only, in place of an earlier one.
pub async fn customer_link(
    State(state): State<AppState>,
    Path(job): Path<String>,
    Extension(visitor): Extension<Visitor>,
) -> Result<Json<Value>, PageError> {
    state.directory().find(&job)?;
    let secret = state.auth().sessions.new_link(&job, now_s());
    state.log().line(Some(visitor.address), &format!("{job}: made a link for the customer, which may only look"));
    let link = format!("{}/#view={secret}", state.reach().address);
    Ok(Json(json!({ "link": link, "qr": qr::as_svg(&link) })))
}

/// `DELETE /api/jobs/{job}/customer-link`: ends the link and whatever was opened through it.
pub async fn end_customer_link(
    State(state): State<AppState>,
    Path(job): Path<String>,
    Extension(visitor): Extension<Visitor>,
) -> Result<Json<Value>, PageError> {
    let ended = state.auth().sessions.end_link(&job);
    state.log().line(Some(visitor.address), &format!("{job}: ended the customer's link"));
    Ok(Json(json!({ "ended": ended })))
}
