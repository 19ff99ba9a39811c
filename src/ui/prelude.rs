//! What every page and component needs: signals of the framework, elements of our own.

pub use leptos::prelude::{
    Effect, Get, GetUntracked, Memo, NodeRef, RwSignal, Set, Signal, Track, Update, With,
    WithUntracked, event_target_checked, event_target_value,
};

pub use super::tree::{IntoTree, Tree, view};
