use crate::ui::prelude::*;

use two_marks::chart::qr_drawing;
use two_marks::class::{Slip, code};
use two_marks::history::Person;
use two_marks::share::{ClassPage, Route};

use super::super::common::plain_head;
use super::show::share_row;
use crate::ui::components::{Icon, act, act_link, alert, button, floor, notice, qr_panel};
use crate::ui::state::{App, Notice};

/// A result slip: as QR code, as a code to read aloud or type, as a link. On the teacher's device it
/// leads into its class.
pub fn page(app: App, text: &str) -> Tree {
    let words = app.w();
    let slip = match Slip::read(text, app.now().date()) {
        Ok(slip) => slip,
        Err(problem) => {
            return view! {
                {plain_head(app, words.class_slip(), &Route::Home)}
                <main id="main" tabindex="-1" class="pad">{alert(words.slip_problem(problem))}</main>
                {floor(act_link(words.go_home(), Route::Home.to_string()))}
            }
            .into_tree();
        }
    };
    let plain: String = text.chars().filter(|sign| code::is_sign(*sign)).collect();
    let plain = plain.to_ascii_uppercase();
    let base = format!("{}#/slip/", (app.ports().address)());
    let qr = qr_drawing(&base, &plain);
    let unit = slip.session.division.unit();
    let best = slip.session.best().map(|best| words.length(best.0, unit));
    let number = words.class_number(&slip.number.to_string());
    let title = words.two_things(&words.class_slip(), &number);
    let asked = RwSignal::new(false);
    let score = match best {
        Some(best) => words.class_your_jump(&best),
        None => words.class_no_jump(),
    };
    view! {
        {plain_head(app, title, &Route::Home)}
        <main id="main" tabindex="-1" class="pad class-show">
            {qr_panel("qr qr--slip", qr, words.class_slip_qr())}
            <div class="stack">
                <p class="lead strong">{score}</p>
                {move || spread(app, unit)}
                <p>{words.class_slip_read()}</p>
                <p class="slip-code" id="slip-code">{code::grouped(&plain)}</p>
                {share_row(app, format!("{base}{plain}"), false)}
                <p class="small soft">{words.class_slip_note()}</p>
                {move || keep(app, asked)}
                <div class="row">{move || super::join::again(app)}</div>
            </div>
        </main>
        {way_on(app, &slip, plain)}
    }
    .into_tree()
}

fn spread(app: App, unit: two_marks::quantity::Unit) -> Option<Tree> {
    let (usual, error) = app.finished_spread()?;
    let words = app.w();
    let said =
        words.result_usual_sentence(&words.length(usual.0, unit), &words.spread(error, unit));
    Some(view! { <p>{said}</p> }.into_tree())
}

/// The teacher's device knows the class of a slip and takes it in.
fn way_on(app: App, slip: &Slip, plain: String) -> Tree {
    let words = app.w();
    let Some(class) = untrack(|| app.class_of_slip(slip)) else {
        return floor(act_link(words.go_home(), Route::Home.to_string()));
    };
    let take = words.class_take_into(&class.setup.label);
    floor(act(
        move || take.clone(),
        move || {
            app.slip_text.set(plain.clone());
            app.go(&Route::Class(ClassPage::Collect(class.id.to_string())));
        },
    ))
}

/// Nothing is kept here unless the pupil asks for it, and nobody of this device is named before.
fn keep(app: App, asked: RwSignal<bool>) -> Tree {
    let words = app.w();
    if asked.get() {
        return match app.notice.get() {
            Some(Notice::Saved) => notice(Icon::Tick, words.saved_on_this_device()),
            Some(Notice::SavedUnsure) => notice(Icon::Info, words.saved_unsure()),
            _ => Tree::Nothing,
        };
    }
    if app.finished.with(Option::is_none) {
        return Tree::Nothing;
    }
    let people: Vec<Person> = app.people.get().into_iter().filter(|one| !one.archived).collect();
    let rows: Vec<_> = people
        .into_iter()
        .map(|person| {
            button(person.nickname.clone(), move || {
                asked.set(true);
                app.keep_for_person(&person.local);
            })
        })
        .collect();
    let body = if rows.is_empty() {
        view! { <p>{words.class_keep_nobody()}</p> }.into_tree()
    } else {
        view! { <div class="row">{rows}</div> }.into_tree()
    };
    view! {
        <details>
            <summary>{words.class_keep()}</summary>
            <p>{words.class_keep_note()}</p>
            {body}
        </details>
    }
    .into_tree()
}
