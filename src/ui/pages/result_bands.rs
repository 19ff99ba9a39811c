//! The published bands on the result page.

use leptos::prelude::*;

use two_marks::assess::Assessment;
use two_marks::chart::{Reference, Standing, Strip};
use two_marks::history::Test;
use two_marks::quantity::Unit;

use crate::ui::state::App;

/// What stands beside the wall, with its words.
pub struct Beside {
    pub head: String,
    pub title: String,
}

impl Beside {
    pub fn strips(&self) -> Vec<Strip<'_>> {
        Vec::new()
    }

    pub fn reference<'a>(&'a self, _strips: &'a [Strip<'a>]) -> Reference<'a> {
        Reference::None
    }

    pub fn standing(&self) -> Option<Standing<'_>> {
        None
    }
}

pub fn beside_wall(app: App, _assessed: &Assessment, _unit: Unit, _place: usize) -> Beside {
    let words = app.w();
    Beside { head: String::new(), title: words.result_no_table() }
}

pub fn spoken(app: App, _assessed: &Assessment, _unit: Unit) -> String {
    app.w().result_no_table()
}

pub fn section(
    _app: App,
    _test: &Test,
    _assessed: &Assessment,
    _place: RwSignal<usize>,
) -> AnyView {
    ().into_any()
}
