//! Descriptions of what is on the page, and how they become the document.
//!
//! A [`Tree`] is plain data: tags, attributes, words, and boxed functions where something changes.
//! One set of functions builds and changes the document for all of them, so a further page costs
//! its own words and calls and no machine code of the framework's. Changes come from signals: a
//! function in a tree runs again when a signal that it read has changed, and the part of the
//! document that it stands for is altered in place, so that the focus stays where it was.
//!
//! This room and `ui/browser/` are the only ones that name the document.

mod element;
mod stand;
mod value;

use leptos::prelude::*;
use leptos::tachys::html::element::ElementType;
use leptos::tachys::html::node_ref::NodeRefContainer;
use std::borrow::Cow;
use wasm_bindgen::JsCast;

pub use element::Element;
pub use two_marks_markup::view;
pub use value::IntoValue;

/// What events hand to their closures.
pub mod event {
    pub use leptos::ev::{KeyboardEvent, MouseEvent};
    pub use leptos::web_sys::Event;
}

/// A part of the page.
#[derive(Default)]
pub enum Tree {
    /// Nothing is seen.
    #[default]
    Nothing,
    /// Words.
    Words(Cow<'static, str>),
    /// An element with all that it holds.
    Element(Box<Element>),
    /// Several side by side.
    Many(Vec<Tree>),
    /// Made anew when a signal that it read changes.
    Live(Box<dyn Fn() -> Tree>),
}

impl Tree {
    /// Several side by side.
    pub fn many(parts: Vec<Tree>) -> Self {
        Self::Many(parts)
    }

    /// Words that are known when the program is built.
    pub fn words(words: &'static str) -> Self {
        Self::Words(Cow::Borrowed(words))
    }
}

/// Whatever can stand between two tags.
pub trait IntoTree {
    /// As a part of the page.
    fn into_tree(self) -> Tree;
}

impl IntoTree for Tree {
    fn into_tree(self) -> Tree {
        self
    }
}

impl IntoTree for () {
    fn into_tree(self) -> Tree {
        Tree::Nothing
    }
}

impl IntoTree for String {
    fn into_tree(self) -> Tree {
        Tree::Words(Cow::Owned(self))
    }
}

impl IntoTree for &'static str {
    fn into_tree(self) -> Tree {
        Tree::words(self)
    }
}

impl<T: IntoTree> IntoTree for Option<T> {
    fn into_tree(self) -> Tree {
        self.map_or(Tree::Nothing, IntoTree::into_tree)
    }
}

impl<T: IntoTree> IntoTree for Vec<T> {
    fn into_tree(self) -> Tree {
        Tree::Many(self.into_iter().map(IntoTree::into_tree).collect())
    }
}

impl<T: IntoTree, F: Fn() -> T + 'static> IntoTree for F {
    fn into_tree(self) -> Tree {
        Tree::Live(Box::new(move || self().into_tree()))
    }
}

/// What runs on an event.
pub type Handler = Box<dyn FnMut(event::Event)>;

/// A closure for one kind of event.
pub fn handler<E: JsCast>(mut run: impl FnMut(E) + 'static) -> Handler {
    Box::new(move |event| run(event.unchecked_into()))
}

/// Takes the element once it is there.
pub type Reference = Box<dyn FnOnce(&leptos::web_sys::Element)>;

/// Lets a node reference hold the element.
pub fn reference<E>(node: NodeRef<E>) -> Reference
where
    E: ElementType + 'static,
    E::Output: JsCast + Clone + 'static,
{
    Box::new(move |element| node.load(element))
}
