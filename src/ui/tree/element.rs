use std::cell::RefCell;
use std::rc::Rc;

use leptos::prelude::*;
use leptos::web_sys;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};

use super::stand::Stand;
use super::value::{Plain, Value};
use super::{Handler, Reference, Tree};

/// An element as it shall be.
pub struct Element {
    tag: &'static str,
    drawn: bool,
    sets: Vec<Set>,
    handlers: Vec<(&'static str, Handler)>,
    references: Vec<Reference>,
    children: Vec<Tree>,
}

/// Something to set on an element.
struct Set {
    place: Place,
    name: &'static str,
    value: Value,
}

/// Where a value goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Place {
    Attribute,
    Property,
    Style,
}

impl Element {
    /// An element of the page.
    pub fn new(tag: &'static str) -> Self {
        Self {
            tag,
            drawn: false,
            sets: Vec::new(),
            handlers: Vec::new(),
            references: Vec::new(),
            children: Vec::new(),
        }
    }

    /// An element of a drawing.
    pub fn drawn(tag: &'static str) -> Self {
        Self { drawn: true, ..Self::new(tag) }
    }

    /// An attribute that never changes.
    pub fn with(&mut self, name: &'static str, text: &'static str) {
        self.attribute(name, Value::Fixed(Plain::Text(text.into())));
    }

    /// An attribute.
    pub fn attribute(&mut self, name: &'static str, value: Value) {
        self.sets.push(Set { place: Place::Attribute, name, value });
    }

    /// A property of the element's object, such as what a field holds.
    pub fn property(&mut self, name: &'static str, value: Value) {
        self.sets.push(Set { place: Place::Property, name, value });
    }

    /// One property of its style.
    pub fn style(&mut self, name: &'static str, value: Value) {
        self.sets.push(Set { place: Place::Style, name, value });
    }

    /// What runs on an event.
    pub fn on(&mut self, event: &'static str, handler: Handler) {
        self.handlers.push((event, handler));
    }

    /// Who is told of the element.
    pub fn reference(&mut self, reference: Reference) {
        self.references.push(reference);
    }

    /// A part that it holds.
    pub fn add(&mut self, child: Tree) {
        self.children.push(child);
    }

    /// The element as a part of the page.
    pub fn done(self) -> Tree {
        Tree::Element(Box::new(self))
    }

    /// Makes the element; nothing when the browser refuses, which it never does for real tags.
    pub(super) fn build(self) -> Option<Standing> {
        let document = leptos::tachys::dom::document();
        let node = if self.drawn {
            document.create_element_ns(Some(SVG), self.tag)
        } else {
            document.create_element(self.tag)
        };
        let mut standing = Standing {
            node: node.ok()?,
            tag: self.tag,
            fixed: Vec::new(),
            effects: Vec::new(),
            listening: Vec::new(),
            children: Vec::new(),
        };
        standing.become_like(self);
        Some(standing)
    }
}

const SVG: &str = "http://www.w3.org/2000/svg";

/// An element in the document.
pub struct Standing {
    pub(super) node: web_sys::Element,
    tag: &'static str,
    fixed: Vec<(Place, &'static str, Plain)>,
    effects: Vec<RenderEffect<Plain>>,
    listening: Vec<Listening>,
    children: Vec<Stand>,
}

/// A listener that stays while what it runs may change.
struct Listening {
    event: &'static str,
    handler: Rc<RefCell<Handler>>,
    /// What the browser calls, for as long as the element is there.
    closure: Closure<dyn FnMut(web_sys::Event)>,
}

impl Standing {
    pub(super) fn is_like(&self, element: &Element) -> bool {
        self.tag == element.tag
    }

    /// Alters the element in place: what stays the same is not touched.
    pub(super) fn become_like(&mut self, element: Element) {
        self.effects.clear();
        let before = std::mem::take(&mut self.fixed);
        for gone in &before {
            let stays = element.sets.iter().any(|set| (set.place, set.name) == (gone.0, gone.1));
            if !stays {
                put(&self.node, gone.0, gone.1, &Plain::Absent);
            }
        }
        for set in element.sets {
            self.set(set, &before);
        }
        self.listen(element.handlers);
        for reference in element.references {
            reference(&self.node);
        }
        super::stand::alter_many(&mut self.children, element.children, &self.node, None);
    }

    fn set(&mut self, Set { place, name, value }: Set, before: &[(Place, &'static str, Plain)]) {
        match value {
            Value::Fixed(plain) => {
                let same = before.iter().any(|(of, its, was)| {
                    (*of, *its) == (place, name) && *was == plain && place != Place::Property
                });
                if !same {
                    put(&self.node, place, name, &plain);
                }
                self.fixed.push((place, name, plain));
            }
            Value::Live(now) => {
                let node = self.node.clone();
                self.effects.push(RenderEffect::new(move |was: Option<Plain>| {
                    let plain = now();
                    if was.as_ref() != Some(&plain) {
                        put(&node, place, name, &plain);
                    }
                    plain
                }));
                // Remembered so that a later element without it takes it away.
                self.fixed.push((place, name, Plain::Absent));
            }
        }
    }

    fn listen(&mut self, handlers: Vec<(&'static str, Handler)>) {
        let same = self.listening.iter().map(|one| one.event).eq(handlers.iter().map(|one| one.0));
        if same {
            for (listening, (_, handler)) in self.listening.iter().zip(handlers) {
                drop(listening.handler.replace(handler));
            }
            return;
        }
        for old in self.listening.drain(..) {
            let function = old.closure.as_ref().unchecked_ref();
            // A listener that is not there any more needs no removal.
            let _ = self.node.remove_event_listener_with_callback(old.event, function);
        }
        for (event, handler) in handlers {
            let handler = Rc::new(RefCell::new(handler));
            let run = handler.clone();
            let closure = Closure::<dyn FnMut(web_sys::Event)>::new(move |event| {
                // An event inside its own handling would find the handler taken: it is left out.
                if let Ok(mut run) = run.try_borrow_mut() {
                    run(event);
                }
            });
            let function = closure.as_ref().unchecked_ref();
            // Adding a listener to an element cannot fail.
            let _ = self.node.add_event_listener_with_callback(event, function);
            self.listening.push(Listening { event, handler, closure });
        }
    }
}

fn put(node: &web_sys::Element, place: Place, name: &str, value: &Plain) {
    let text = match value {
        Plain::Text(text) => Some(text.as_ref()),
        Plain::Flag(true) => Some(""),
        Plain::Flag(false) | Plain::Absent => None,
    };
    // All three can only refuse names that no page of ours uses.
    match (place, text) {
        (Place::Attribute, Some(text)) => drop(node.set_attribute(name, text)),
        (Place::Attribute, None) => drop(node.remove_attribute(name)),
        (Place::Property, _) => {
            let value = match value {
                Plain::Text(text) => JsValue::from_str(text),
                Plain::Flag(flag) => JsValue::from_bool(*flag),
                Plain::Absent => JsValue::UNDEFINED,
            };
            drop(js_sys::Reflect::set(node, &JsValue::from_str(name), &value));
        }
        (Place::Style, text) => {
            let style = node.unchecked_ref::<web_sys::HtmlElement>().style();
            drop(style.set_property(name, text.unwrap_or_default()));
        }
    }
}
