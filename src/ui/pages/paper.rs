use crate::ui::prelude::*;

use two_marks::share::Route;
use two_marks::text::Words;

use super::common::plain_head;
use crate::ui::components::{Choice, act_link, button, floor, pick};
use crate::ui::state::App;

/// The form that also works where the page itself cannot run, in a language (`xtask/src/outside.rs`
/// names the files).
fn blank_form(tag: &str) -> String {
    if tag == "en" { "paper.html".to_owned() } else { format!("paper-{tag}.html") }
}

/// How many rows a class form may have.
const ROWS: [u32; 4] = [10, 20, 30, 40];

/// Forms and a wall scale to print. What the browser prints of this page is the class form.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let rows = RwSignal::new(30_u32);
    let choices = ROWS.map(|rows| Choice::new(rows, words.locale().decimal(i64::from(rows), 0)));
    view! {
        <div class="on-screen">{plain_head(app, words.paper_title(), &Route::Home)}</div>
        <main id="main" tabindex="-1" class="pad stack-wide">
            <p class="on-screen">{words.paper_intro()}</p>
            {part(
                words.paper_scale(),
                words.paper_scale_note(),
                Route::Strip.to_string(),
                words.paper_scale_open(),
            )}
            {part(
                words.paper_blank(),
                words.paper_blank_note(),
                blank_form(app.language.get()),
                words.paper_blank_open(),
            )}
            <section class="stack on-screen">
                <h2>{words.paper_class()}</h2>
                <p>{words.paper_class_note()}</p>
                <p class="label" id="rows-label">
                    {words.paper_class_rows()}
                </p>
                {pick(
                    "rows",
                    "rows-label".to_owned(),
                    choices.into(),
                    Signal::derive(move || Some(rows.get())),
                    move |count| rows.set(count),
                )}
                {button(words.paper_print(), move || (app.ports().print)())}
            </section>
            {move || class_form(&app.w(), rows.get())}
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}

fn part(title: String, note: String, to: String, open: String) -> Tree {
    view! {
        <section class="stack on-screen">
            <h2>{title}</h2>
            <p>{note}</p>
            <a class="btn" href=to>
                {open}
            </a>
        </section>
    }
    .into_tree()
}

/// Numbers in rows, with room for three reaches, the jumps and the height.
fn class_form(words: &Words, rows: u32) -> Tree {
    let rows: Vec<_> = (1..=rows)
        .map(|row| {
            let cells: Vec<_> = (0..10).map(|_| view! { <td></td> }).collect();
            view! {
                <tr>
                    <th scope="row">{words.locale().decimal(i64::from(row), 0)}</th>
                    {cells}
                </tr>
            }
            .into_tree()
        })
        .collect();
    let blanks = [words.paper_class_name(), words.paper_class_date(), words.paper_class_unit()];
    let blanks: Vec<_> =
        blanks.into_iter().map(|label| view! { <span>{label}</span> }.into_tree()).collect();
    let heads = [
        (1, words.paper_class_number()),
        (3, words.paper_class_reaches()),
        (1, words.paper_class_reach()),
        (4, words.paper_class_jumps()),
        (1, words.paper_class_best()),
        (1, words.paper_class_note_column()),
    ];
    let heads: Vec<_> = heads
        .into_iter()
        .map(|(columns, head)| {
            view! {
                <th scope="col" colspan=columns.to_string()>
                    {head}
                </th>
            }
            .into_tree()
        })
        .collect();
    view! {
        <section class="class-form stack">
            <h2 id="form-title">{words.paper_class_head()}</h2>
            <p>
                <strong>{words.paper_class_for_growth()}</strong>
            </p>
            <p class="small">{words.paper_class_how()}</p>
            <p class="small">{words.paper_class_ready()}</p>
            <p class="blanks">{blanks}</p>
            <div class="scroll" role="region" tabindex="0" aria-labelledby="form-title">
                <table>
                    <thead>
                        <tr>{heads}</tr>
                    </thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
        </section>
    }
    .into_tree()
}
