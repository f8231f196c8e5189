//! The page's own files, inside the program.

use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use include_dir::{Dir, include_dir};

static WEB: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/src/bin/hissward/page/web");

/// `GET /`.
pub async fn index() -> Response {
    file("index.html")
}

/// `GET /web/{file}`. The name is looked up among those inside the program; there is no disk behind it.
pub async fn asset(Path(name): Path<String>) -> Response {
    file(&name)
}

fn file(name: &str) -> Response {
    let kind = match name.rsplit_once('.').map(|(_, ending)| ending) {
        Some("html") => "text/html; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("svg") => "image/svg+xml",
        Some("webmanifest") => "application/manifest+json",
        _ => "application/octet-stream",
    };
    match WEB.get_file(name) {
        Some(found) => {
            ([(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, "no-cache")], found.contents()).into_response()
        }
        None => StatusCode::NOT_FOUND.into_response(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The issue of size: everything a phone loads.
    const MOST_BYTES: usize = 150_000;

    #[test]
    fn the_page_is_small_and_asks_nobody_else() {
        let total: usize = WEB.files().map(|file| file.contents().len()).sum();
        assert!(total < MOST_BYTES, "{total} bytes");
        for file in WEB.files() {
            let text = file.contents_utf8().expect("text");
            let outside = text.replace("http://www.w3.org/", "");
            assert!(!outside.contains("http://") && !outside.contains("https://"), "{:?}", file.path());
        }
    }

    #[test]
    fn markup_holds_no_script_and_no_style() {
        let page = WEB.get_file("index.html").and_then(|file| file.contents_utf8()).expect("the page");
        assert!(!page.contains("<style") && !page.contains("style=") && !page.contains("onclick"));
        assert_eq!(page.matches("<script").count(), page.matches("<script type=\"module\" src=").count());
    }
}
