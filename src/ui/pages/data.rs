use crate::ui::prelude::*;

use two_marks::quantity::Moment;
use two_marks::share::Route;
use two_marks::text::DateForm;

use super::common::plain_head;
use super::{data_bin, data_restore, data_sheets, keeping};
use crate::ui::components::{Choice, act_link, alert, button, floor, pick};
use crate::ui::state::{App, Look, Shared};

/// Where the records are, backup, restore, spreadsheets, the bin, looks.
pub fn page(app: App) -> Tree {
    let words = app.w();
    view! {
        {plain_head(app, words.data_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack-wide">
            {move || own(app)}
            {super::language::section(app)}
            {looks(app)}
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}

/// All that has to do with the person's own records. A file of the example could be restored by
/// mistake, so there is none.
fn own(app: App) -> Tree {
    if app.example.get() {
        return view! { <p>{app.w().data_not_in_example()}</p> }.into_tree();
    }
    view! {
        {keeping::section(app)}
        {backup(app)}
        {moving(app)}
        {data_restore::section(app)}
        {data_sheets::sections(app)}
        {move || data_bin::section(app)}
    }
    .into_tree()
}

fn backup(app: App) -> Tree {
    let words = app.w();
    let failed = RwSignal::new(false);
    let save = move || failed.set(!app.save_backup());
    // A device that shares no such file is given the download instead.
    let share = move || {
        app.share_backup(move |shared| {
            if shared == Shared::Refused {
                failed.set(!app.save_backup());
            }
        });
    };
    let can_share = app.ports().share.is_some();
    view! {
        <section class="stack">
            <h2>{words.data_backup()}</h2>
            <p class="soft">{words.data_backup_note()}</p>
            <p>{move || last_backup(app)}</p>
            <div class="row row--wide">
                {button(words.data_backup_save(), save)}
                {can_share.then(|| button(app.w().data_backup_share(), share))}
            </div>
            {move || failed.get().then(|| alert(app.w().data_backup_failed()))}
        </section>
    }
    .into_tree()
}

fn last_backup(app: App) -> String {
    let words = app.w();
    let offset_minutes = app.now().offset_minutes;
    app.settings.with(|settings| match settings.backup_utc_ms {
        None => words.data_backup_never(),
        Some(utc_ms) => {
            let date = Moment { utc_ms, offset_minutes }.date();
            let since = settings.tests_since_backup;
            words.data_backup_last(since, &words.date(date, DateForm::Full))
        }
    })
}

fn moving(app: App) -> Tree {
    let words = app.w();
    view! {
        <section class="stack">
            <h2>{words.data_move()}</h2>
            <ol class="steps">
                <li>{words.data_move_1()}</li>
                <li>{words.data_move_2()}</li>
                <li>{words.data_move_3()}</li>
                <li>{words.data_move_4()}</li>
            </ol>
            <p class="soft">{words.data_move_note()}</p>
        </section>
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
