//! Whether markup holds together: every element closed, in order, every sign escaped.

/// Elements that HTML never closes.
const VOID: [&str; 3] = ["meta", "img", "!DOCTYPE"];

/// Walks the tags of a page or an SVG.
pub fn check(text: &str, name: &str) {
    let mut open: Vec<&str> = Vec::new();
    let mut rest = text;
    while let Some(at) = rest.find('<') {
        let tag = &rest[at + 1..];
        let end = tag.find('>').unwrap_or_else(|| panic!("{name}: a tag without end: {}", &tag[..tag.len().min(60)]));
        let inside = &tag[..end];
        rest = &tag[end + 1..];
        let kind = inside.trim_start_matches('/').split([' ', '/', '\n']).next().expect("a first part");
        assert_eq!(inside.matches('"').count() % 2, 0, "{name}: an attribute is not closed in <{inside}>");
        if inside.starts_with('/') {
            assert_eq!(open.pop(), Some(kind), "{name}: </{kind}> closes another element");
        } else if !inside.ends_with('/') && !VOID.contains(&kind) {
            open.push(kind);
        }
    }
    assert!(open.is_empty(), "{name}: never closed: {open:?}");
}

/// Text as it stands in markup.
pub fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

#[test]
fn the_checker_sees_faults() {
    check("<a b=\"c\"><d/></a>", "sound");
    for wrong in ["<a><b></a>", "<a>", "<a b=\"></a>"] {
        assert!(std::panic::catch_unwind(|| check(wrong, "wrong")).is_err(), "{wrong}");
    }
}
