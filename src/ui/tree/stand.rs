use std::borrow::Cow;

use leptos::prelude::*;
use leptos::tachys::view::Mountable;
use leptos::web_sys::{self, Node, Text};
use wasm_bindgen::JsCast;

use super::Tree;
use super::element::Standing;

/// A part of the page that stands in the document.
pub enum Stand {
    /// Nothing is seen; an empty comment keeps the place.
    Mark(Node),
    /// Words.
    Words(Text, Cow<'static, str>),
    /// An element.
    Element(Box<Standing>),
    /// Several side by side, and the comment that ends them.
    Many(Vec<Stand>, Node),
    /// Alters itself.
    Live(RenderEffect<Stand>),
}

impl Render for Tree {
    type State = Stand;

    fn build(self) -> Stand {
        match self {
            Self::Nothing => Stand::Mark(mark()),
            Self::Words(words) => {
                let node = leptos::tachys::dom::document().create_text_node(&words);
                Stand::Words(node, words)
            }
            Self::Element(element) => match element.build() {
                Some(standing) => Stand::Element(Box::new(standing)),
                None => Stand::Mark(mark()),
            },
            Self::Many(parts) => {
                Stand::Many(parts.into_iter().map(Render::build).collect(), mark())
            }
            Self::Live(now) => Stand::Live(RenderEffect::new(move |was: Option<Stand>| {
                let tree = now();
                match was {
                    Some(mut stand) => {
                        tree.rebuild(&mut stand);
                        stand
                    }
                    None => tree.build(),
                }
            })),
        }
    }

    fn rebuild(self, stand: &mut Stand) {
        match (self, stand) {
            (Self::Nothing, Stand::Mark(_)) => {}
            (Self::Words(new), Stand::Words(node, old)) => {
                if new != *old {
                    node.set_data(&new);
                    *old = new;
                }
            }
            (Self::Element(new), Stand::Element(old)) if old.is_like(&new) => {
                old.become_like(*new);
            }
            (Self::Many(new), Stand::Many(old, end)) => {
                if let Some(parent) = end.parent_node() {
                    alter_many(old, new, &parent, Some(end));
                }
            }
            (new, old) => {
                let fresh = new.build();
                if let Some(place) = old.first_node()
                    && let Some(parent) = place.parent_node()
                {
                    fresh.insert(&parent, Some(&place));
                }
                old.remove();
                *old = fresh;
            }
        }
    }
}

/// Makes the parts that stand in `parent` like the new ones: pair by pair, then more or fewer.
pub(super) fn alter_many(
    stands: &mut Vec<Stand>,
    trees: Vec<Tree>,
    parent: &Node,
    end: Option<&Node>,
) {
    for surplus in stands.drain(trees.len().min(stands.len())..) {
        surplus.remove();
    }
    let mut trees = trees.into_iter();
    for (stand, tree) in stands.iter_mut().zip(trees.by_ref()) {
        tree.rebuild(stand);
    }
    for tree in trees {
        let stand = tree.build();
        stand.insert(parent, end);
        stands.push(stand);
    }
}

fn mark() -> Node {
    leptos::tachys::dom::document().create_comment("").unchecked_into()
}

impl Stand {
    fn first_node(&self) -> Option<Node> {
        match self {
            Self::Mark(node) => Some(node.clone()),
            Self::Words(node, _) => Some(node.clone().unchecked_into()),
            Self::Element(standing) => Some(standing.node.clone().unchecked_into()),
            Self::Many(parts, end) => {
                parts.first().map_or_else(|| Some(end.clone()), Self::first_node)
            }
            Self::Live(effect) => effect.with_value_mut(|stand| stand.first_node()).flatten(),
        }
    }

    /// Puts the part in front of `before`, or last. A parent takes any of our nodes.
    fn insert(&self, parent: &Node, before: Option<&Node>) {
        match self {
            Self::Mark(node) => drop(parent.insert_before(node, before)),
            Self::Words(node, _) => drop(parent.insert_before(node, before)),
            Self::Element(standing) => drop(parent.insert_before(&standing.node, before)),
            Self::Many(parts, end) => {
                for part in parts {
                    part.insert(parent, before);
                }
                drop(parent.insert_before(end, before));
            }
            Self::Live(effect) => {
                effect.with_value_mut(|stand| stand.insert(parent, before));
            }
        }
    }

    fn remove(&self) {
        match self {
            Self::Mark(node) => take(node),
            Self::Words(node, _) => take(node),
            Self::Element(standing) => standing.node.remove(),
            Self::Many(parts, end) => {
                parts.iter().for_each(Self::remove);
                take(end);
            }
            Self::Live(effect) => {
                effect.with_value_mut(|stand| stand.remove());
            }
        }
    }
}

fn take(node: &Node) {
    if let Some(parent) = node.parent_node() {
        // It was this parent's child a moment ago.
        let _ = parent.remove_child(node);
    }
}

impl Mountable for Stand {
    fn unmount(&mut self) {
        self.remove();
    }

    fn mount(&mut self, parent: &web_sys::Element, marker: Option<&Node>) {
        self.insert(parent, marker);
    }

    fn insert_before_this(&self, child: &mut dyn Mountable) -> bool {
        let place = self.first_node();
        let parent = place.as_ref().and_then(Node::parent_element);
        parent.is_some_and(|parent| child.try_mount(&parent, place.as_ref()))
    }

    fn elements(&self) -> Vec<web_sys::Element> {
        match self {
            Self::Element(standing) => vec![standing.node.clone()],
            Self::Many(parts, _) => parts.iter().flat_map(Mountable::elements).collect(),
            Self::Mark(_) | Self::Words(..) => Vec::new(),
            Self::Live(effect) => {
                effect.with_value_mut(|stand| stand.elements()).unwrap_or_default()
            }
        }
    }
}
