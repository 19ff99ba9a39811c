//! The big number of the reach and of the jumps page.

use crate::ui::prelude::*;

use two_marks::flow::Judged;
use two_marks::measure::{nudged, part_of, parts, with_part};
use two_marks::quantity::{Reading, Unit};

use super::common::entry_problem;
use crate::ui::components::{EntryKeys, EntryText, button, number_entry};
use crate::ui::state::App;

/// What one page's number entry is about.
pub(super) struct Entry {
    /// The field's name.
    pub(super) label: String,
    /// What the number comes to, or how it is judged.
    pub(super) output: Signal<String>,
    /// Where plus and minus begin in an empty field.
    pub(super) start: Option<Reading>,
    /// What is typed, judged.
    pub(super) judged: Memo<Judged>,
    /// Keeps what is typed.
    pub(super) keep: fn(App),
}

/// The number entry for the test in progress, with what is wrong beneath it.
pub(super) fn reading_entry(app: App, entry: Entry) -> Tree {
    let words = app.w();
    let Entry { label, output, start, judged, keep } = entry;
    let Some(division) = app.of_progress(|progress| progress.session.division) else {
        return Tree::Nothing;
    };
    let unit = division.unit();
    let value = Signal::derive(move || {
        app.of_progress(|progress| progress.typed.clone()).unwrap_or_default()
    });
    let invalid = Signal::derive(move || app.tried.get() && judged.get().reading.is_none());
    let put = move |reading: Option<Reading>| {
        if let Some(reading) = reading {
            let text = app.w().entry_text(reading);
            app.edit(|progress| progress.typed = text);
        }
    };
    let keys = EntryKeys {
        less: move || put(nudged(&value.get_untracked(), division, start, false)),
        more: move || put(nudged(&value.get_untracked(), division, start, true)),
        part: move |part| put(with_part(&value.get_untracked(), division, part)),
        input: move |text| app.edit(|progress| progress.typed = text),
        enter: move || keep(app),
    };
    let step = words.division(division);
    let text = EntryText {
        label,
        output,
        unit: words.unit_sign(unit),
        less_more: (words.jumps_less(&step), words.jumps_more(&step)),
        fraction: words.jumps_fraction(),
    };
    let part_labels: Vec<_> =
        parts(division).into_iter().map(|part| (part, words.part(part, unit))).collect();
    let chosen = Signal::derive(move || part_of(&value.get(), division));
    view! {
        {number_entry("entry", text, value, invalid, part_labels, chosen, keys)}
        {feet_key(app, unit)}
        {entry_problem(app, judged)}
    }
    .into_tree()
}

/// In inches, a key that turns what is typed into feet, so that the number keys of a phone are enough.
fn feet_key(app: App, unit: Unit) -> Tree {
    let press = move || {
        app.edit(|progress| progress.typed.push_str("' "));
        (app.ports().focus)("entry");
    };
    (unit == Unit::Inch).then(|| button(app.w().jumps_feet(), press)).into_tree()
}
