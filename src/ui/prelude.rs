//! What every page and component needs: signals of the framework, elements of our own.

pub use leptos::prelude::{
    Effect, Get, GetUntracked, GetValue, Memo, NodeRef, RwSignal, Set, Signal, StoredValue, Track,
    Update, With, WithUntracked, WithValue, event_target_checked, event_target_value, untrack,
};

pub use super::tree::{IntoTree, Tree, view};
