//! Version, what leaves the device, cautions, access, licences.

use crate::ui::prelude::*;

use two_marks::share::Route;
use two_marks::text::Words;

use super::common::plain_head;
use crate::ui::components::{act_link, floor};
use crate::ui::state::App;

/// The version of this build.
const VERSION: &str = env!("CARGO_PKG_VERSION");
/// The commit it was built from, where the build knew it.
const COMMIT: Option<&str> = option_env!("TWO_MARKS_COMMIT");
/// Written beside the page by the build.
const NOTICES: &str = "notices.txt";

/// About the product.
pub fn page(app: App) -> Tree {
    let words = app.w();
    view! {
        {plain_head(app, words.about_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack-wide info">
            <section class="stack">
                <p>
                    <strong>{version(&words)}</strong>
                </p>
                <p>{words.about_what()}</p>
                <p>{words.about_tried()}</p>
            </section>
            {part(words.about_private_title(), vec![
                words.about_private_1(),
                words.about_private_2(),
                words.about_private_3(),
                words.about_private_4(),
            ])}
            {part(words.about_check_title(), vec![
                words.about_check_1(),
                words.about_check_2(),
                words.about_check_3(),
                words.about_check_4(),
            ])}
            {part(words.about_shared_title(), vec![words.about_shared()])}
            {part(words.about_care_title(), care(&words))}
            {part(words.about_access_title(), vec![
                words.about_access_1(),
                words.about_access_2(),
                words.about_access_3(),
                words.about_access_4(),
                words.about_access_5(),
            ])}
            {part(words.about_browsers_title(), vec![
                words.about_browsers(),
                words.about_browsers_old(),
            ])}
            {report(app)}
            {licences(&words)}
            <nav class="info-links" aria-label=words.home_more()>
                <a class="btn" href=Route::Bands.to_string()>
                    {words.home_bands()}
                </a>
                <a class="btn" href=Route::Sure.to_string()>
                    {words.home_sure()}
                </a>
                <a class="btn" href=Route::Glossary.to_string()>
                    {words.home_words()}
                </a>
            </nav>
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}

fn version(words: &Words) -> String {
    match COMMIT {
        Some(commit) => words.about_version(VERSION, commit),
        None => words.about_version_only(VERSION),
    }
}

fn part(title: String, sentences: Vec<String>) -> Tree {
    let sentences: Vec<_> = sentences.into_iter().map(|line| view! { <p>{line}</p> }).collect();
    view! {
        <section class="stack">
            <h2>{title}</h2>
            {sentences}
        </section>
    }
    .into_tree()
}

fn care(words: &Words) -> Vec<String> {
    vec![
        words.about_care_1(),
        words.about_care_2(),
        words.about_care_3(),
        words.about_care_4(),
        words.about_care_5(),
        words.about_care_6(),
        words.about_care_7(),
        words.about_care_8(),
        words.about_care_9(),
        words.about_care_10(),
        words.about_care_11(),
        words.about_numbers(),
    ]
}

/// What may be sent by hand when something goes wrong: no record, no name, no date.
fn report(app: App) -> Tree {
    let words = app.w();
    let lines = move || {
        let words = app.w();
        let kept = match app.is_kept() {
            true => words.about_report_kept(),
            false => words.about_report_not_kept(),
        };
        let troubles = app.troubles.with(|troubles| u32::try_from(troubles.len()).unwrap_or(0));
        [version(&words), kept, words.about_report_unread(troubles)].join("\n")
    };
    view! {
        <section class="stack">
            <h2>{words.about_report_title()}</h2>
            <p>{words.about_report()}</p>
            <p>{words.about_report_how()}</p>
            <label class="small" for="report">
                {words.about_report_label()}
            </label>
            <textarea id="report" class="report" readonly rows="4" prop:value=lines></textarea>
        </section>
    }
    .into_tree()
}

fn licences(words: &Words) -> Tree {
    view! {
        <section class="stack">
            <h2>{words.about_licence_title()}</h2>
            <p>{words.about_licence_own()}</p>
            <p>{words.about_licence_others()}</p>
            <p>
                <a href=NOTICES>{words.about_licence_list()}</a>
            </p>
            <p>{words.about_licence_tables()}</p>
            <p>
                <a href=Route::Bands.to_string()>{words.about_licence_tables_more()}</a>
            </p>
        </section>
    }
    .into_tree()
}
