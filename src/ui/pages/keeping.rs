use crate::ui::prelude::*;

use two_marks::history::REMIND_AFTER_TESTS;
use two_marks::share::Route;
use two_marks::text::Words;

use crate::ui::components::{Icon, button, check_row, notice};
use crate::ui::state::{App, HomeScreen, Keeping};

/// What may be said on the wall about keeping the records: one thing at a time.
pub fn reminders(app: App) -> Tree {
    if app.progress.with(Option::is_some) {
        return Tree::Nothing;
    }
    if app.home_screen_is_due() {
        return home_screen(app);
    }
    if app.backup_is_due() {
        return backup(app);
    }
    Tree::Nothing
}

fn home_screen(app: App) -> Tree {
    let words = app.w();
    let close = move || app.change_settings(|settings| settings.home_screen_told = true);
    notice(
        Icon::Info,
        view! {
            <h2>{words.keeping_home_title()}</h2>
            <p>{words.keeping_home_why()}</p>
            <details>
                <summary>{words.keeping_home_steps()}</summary>
                {home_screen_steps(app)}
            </details>
            <div class="row">
                <a class="btn" href=Route::Data.to_string()>
                    {words.keeping_backup_go()}
                </a>
                {button(words.close(), close)}
            </div>
        },
    )
}

/// The way to the home screen in this browser.
fn home_screen_steps(app: App) -> Tree {
    let way = RwSignal::new(app.way_to_home_screen());
    // An offer that was turned down does not come back: then the menu is the way.
    let ask = move || {
        app.add_to_home_screen(move || {
            // The notice may be gone by then.
            let _ = way.try_set(app.way_to_home_screen());
        });
    };
    let steps = move || {
        let words = app.w();
        match way.get() {
            // Such browsers keep what was stored.
            HomeScreen::Offered => button(words.keeping_home_ask(), ask),
            HomeScreen::ShareMenu => by_menu(&words, words.keeping_home_share()),
            HomeScreen::Menu => by_menu(&words, words.keeping_home_menu()),
        }
    };
    view! { <div class="stack">{steps}</div> }.into_tree()
}

fn by_menu(words: &Words, how: String) -> Tree {
    view! {
        <p>{words.keeping_home_first()}</p>
        <p>{how}</p>
    }
    .into_tree()
}

fn backup(app: App) -> Tree {
    let words = app.w();
    let since = app.settings.with(|settings| settings.tests_since_backup);
    let later = move || app.change_settings(|settings| settings.put_reminder_off());
    let never = move || app.change_settings(|settings| settings.no_backup_reminder = true);
    notice(
        Icon::Info,
        view! {
            <p>{words.keeping_backup_due(since)}</p>
            <div class="row">
                <a class="btn" href=Route::Data.to_string()>
                    {words.keeping_backup_go()}
                </a>
                {button(words.not_now(), later)}
                {button(words.keeping_never(), never)}
            </div>
        },
    )
}

/// Where the records are, what the browser promised, and how to be reminded.
pub fn section(app: App) -> Tree {
    let words = app.w();
    if !app.is_kept() {
        return view! { <p>{words.not_saved_here()}</p> }.into_tree();
    }
    app.look_at_keeping();
    let reminds =
        Signal::derive(move || !app.settings.with(|settings| settings.no_backup_reminder));
    let toggle =
        move |on: bool| app.change_settings(move |settings| settings.no_backup_reminder = !on);
    view! {
        <section class="stack">
            <h2>{words.keeping_title()}</h2>
            <p>{words.data_kept()}</p>
            <div class="stack" role="status">
                {move || promise(app)}
            </div>
            <details>
                <summary>{words.keeping_home_title()}</summary>
                <div class="stack">
                    <p>{words.keeping_home_why()}</p>
                    {home_screen_steps(app)}
                </div>
            </details>
            <div class="checks checks--one">
                {check_row("reminds", words.keeping_remind(REMIND_AFTER_TESTS), reminds, toggle)}
            </div>
        </section>
    }
    .into_tree()
}

fn promise(app: App) -> Tree {
    let words = app.w();
    let ask = || button(app.w().keeping_ask(), move || app.ask_to_keep());
    match app.keeping.get() {
        None => Tree::Nothing,
        Some(Keeping::Promised) => view! { <p>{words.keeping_promised()}</p> }.into_tree(),
        Some(Keeping::NotPromised) => view! {
            <p>{words.keeping_not_promised()}</p>
            {ask()}
        }
        .into_tree(),
        Some(Keeping::Unknown) => view! { <p>{words.keeping_unknown()}</p> }.into_tree(),
    }
}
