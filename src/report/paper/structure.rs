//! The tree that says what each text is: headings, lists, tables, figures.

use krilla::tagging::{Identifier, Node, TagGroup, TagKind, TagTree};

/// A place in the tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct ElementIndex(usize);

struct Element {
    tag: TagKind,
    children: Vec<ElementIndex>,
    contents: Vec<Identifier>,
}

/// The tree while it grows: first its elements, then, page by page, what they contain.
#[derive(Default)]
pub(super) struct Structure {
    elements: Vec<Element>,
    tops: Vec<ElementIndex>,
}

impl Structure {
    /// An element of the document.
    pub(super) fn top(&mut self, tag: impl Into<TagKind>) -> ElementIndex {
        let place = self.add(tag);
        self.tops.push(place);
        place
    }

    /// An element inside another.
    pub(super) fn inside(&mut self, parent: ElementIndex, tag: impl Into<TagKind>) -> ElementIndex {
        let place = self.add(tag);
        self.elements[parent.0].children.push(place);
        place
    }

    fn add(&mut self, tag: impl Into<TagKind>) -> ElementIndex {
        self.elements.push(Element { tag: tag.into(), children: Vec::new(), contents: Vec::new() });
        ElementIndex(self.elements.len() - 1)
    }

    /// Content of an element, in the order of reading.
    pub(super) fn contains(&mut self, place: ElementIndex, content: Identifier) {
        self.elements[place.0].contents.push(content);
    }

    /// The finished tree.
    pub(super) fn tree(self, language: &str) -> TagTree {
        let mut tree = TagTree::new().with_lang(Some(language.to_owned()));
        for top in &self.tops {
            tree.push(self.node(*top));
        }
        tree
    }

    fn node(&self, place: ElementIndex) -> Node {
        let element = &self.elements[place.0];
        let mut group = TagGroup::new(element.tag.clone());
        element.contents.iter().for_each(|content| group.push(*content));
        element.children.iter().for_each(|child| group.push(self.node(*child)));
        group.into()
    }
}
