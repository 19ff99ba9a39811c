use crate::ui::prelude::*;

use two_marks::history::{BinEntry, Binned, Preview, Record, SumCheck};
use two_marks::share::Route;
use two_marks::text::DateForm;

use super::common::plain_head;
use crate::ui::components::{Choice, Icon, act_link, alert, button, floor, notice, pick};
use crate::ui::state::{App, Look, Picked};

/// Backup, restore, looks, the bin.
pub fn page(app: App) -> Tree {
    let words = app.w();
    view! {
        {plain_head(app, words.data_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack-wide">
            {kept(app)}
            {backup(app)}
            {restore(app)}
            {looks(app)}
            {move || bin(app)}
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}

fn kept(app: App) -> Tree {
    let words = app.w();
    let line = if app.is_kept() { words.data_kept() } else { words.not_saved_here() };
    view! { <p>{line}</p> }.into_tree()
}

fn backup(app: App) -> Tree {
    let words = app.w();
    let failed = RwSignal::new(false);
    view! {
        <section class="stack">
            <h2>{words.data_backup()}</h2>
            <p class="soft">{words.data_backup_note()}</p>
            {button(words.data_backup_save(), move || failed.set(!app.save_backup()))}
            {move || failed.get().then(|| alert(app.w().data_backup_failed()))}
        </section>
    }
    .into_tree()
}

fn restore(app: App) -> Tree {
    let words = app.w();
    view! {
        <section class="stack">
            <h2 id="restore">{words.data_restore()}</h2>
            <p class="soft">{words.data_restore_note()}</p>
            <label class="btn file">
                {words.data_restore_open()}
                <input
                    type="file"
                    class="hidden-words"
                    accept=".json,application/json"
                    id="restore-file"
                    on:change=move |event| app.pick_backup(event)
                />
            </label>
            <div role="status">{move || picked(app)}</div>
        </section>
    }
    .into_tree()
}

fn picked(app: App) -> Tree {
    let words = app.w();
    match app.picked.get() {
        None => Tree::Nothing,
        Some(Picked::TooLarge) => alert(words.data_too_large()),
        Some(Picked::NotABackup) => alert(words.data_not_a_backup()),
        Some(Picked::Newer) => alert(words.data_newer()),
        Some(Picked::Restored) => notice(Icon::Tick, words.data_restored()),
        Some(Picked::NotRestored) => alert(words.store_failed()),
        Some(Picked::Preview { preview, sum, unreadable, .. }) => {
            preview_of(app, &preview, sum, unreadable)
        }
    }
}

fn preview_of(app: App, preview: &Preview, sum: SumCheck, unreadable: usize) -> Tree {
    let words = app.w();
    let count = |many: usize| u32::try_from(many).unwrap_or(u32::MAX);
    let sum = match sum {
        SumCheck::Right => None,
        SumCheck::Missing => Some(notice(Icon::Info, words.data_sum_missing())),
        SumCheck::Wrong => Some(alert(words.data_sum_wrong())),
    };
    let deleted = preview.deleted_there.len();
    let purged = preview.purged_there.len();
    let lines = [
        (preview.added.len(), words.data_preview_new(count(preview.added.len()))),
        (preview.newer.len(), words.data_preview_newer(count(preview.newer.len()))),
        (preview.older.len(), words.data_preview_older(count(preview.older.len()))),
        (preview.same.len(), words.data_preview_same(count(preview.same.len()))),
        (preview.conflicts.len(), words.data_preview_conflicts(count(preview.conflicts.len()))),
        (preview.deleted_here.len(), words.data_preview_in_bin(count(preview.deleted_here.len()))),
        (deleted, words.data_preview_deleted(count(deleted))),
        (purged, words.data_preview_purged(count(purged))),
        (unreadable, words.data_preview_unreadable(count(unreadable))),
    ];
    let lines: Vec<_> = lines
        .into_iter()
        .filter(|(many, _)| *many > 0)
        .map(|(_, line)| view! { <li>{line}</li> })
        .collect();
    view! {
        {sum}
        <ul class="dots">{lines}</ul>
        <div class="row">
            {button(words.data_restore_do(), move || app.restore_picked())}
            {button(words.not_now(), move || app.picked.set(None))}
        </div>
    }
    .into_tree()
}

fn looks(app: App) -> Tree {
    let words = app.w();
    let looks = vec![
        Choice::new(Look::System, words.data_look_system()),
        Choice::new(Look::Light, words.data_look_light()),
        Choice::new(Look::Dark, words.data_look_dark()),
        Choice::new(Look::Sun, words.data_look_sun()),
    ];
    let chosen = Signal::derive(move || Some(app.look.get()));
    view! {
        <section class="stack">
            <h2 id="look-label">{words.data_look()}</h2>
            {pick("look", "look-label".to_owned(), looks, chosen, move |look| {
                app.choose_look(look);
            })}
        </section>
    }
    .into_tree()
}

fn bin(app: App) -> Tree {
    let words = app.w();
    app.tests.track();
    let rows: Vec<_> = app.bin().into_iter().filter_map(|entry| bin_row(app, entry)).collect();
    if rows.is_empty() {
        return Tree::Nothing;
    }
    view! {
        <section class="stack">
            <h2>{words.history_bin()}</h2>
            <p class="soft">{words.history_bin_note()}</p>
            <ul class="readings">{rows}</ul>
        </section>
    }
    .into_tree()
}

fn bin_row(app: App, entry: BinEntry) -> Option<Tree> {
    let words = app.w();
    let Record::Test(test) = entry.record.clone() else {
        return None;
    };
    if entry.reason != Binned::Deleted {
        return None;
    }
    let date = words.date(test.date, DateForm::Full);
    let height = test.session.best().map(|best| words.length(best.0, test.session.division.unit()));
    let said = words.two_things(&date, &height.unwrap_or_default());
    let row = view! {
        <li class="bin-row">
            <span>{said}</span>
            {button(words.result_restore(), move || app.bring_back(&test))}
        </li>
    };
    Some(row.into_tree())
}
