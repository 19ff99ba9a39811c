use crate::ui::prelude::*;

use two_marks::class::{Invitation, LinkProblem, read_link};
use two_marks::share::{ClassPage, Route};

use super::super::common::plain_head;
use super::{setup_lines, to};
use crate::ui::components::{act, act_link, alert, button, field_problem, floor, text_field};
use crate::ui::state::App;

/// Behind the link of a class: what was set up, what will happen, and which number.
pub fn page(app: App, code: &str) -> Tree {
    match read_link(code) {
        Ok(invitation) => welcome(app, invitation),
        Err(problem) => refused(app, problem),
    }
}

fn refused(app: App, problem: LinkProblem) -> Tree {
    let words = app.w();
    let why = match problem {
        LinkProblem::Empty => words.class_link_empty(),
        LinkProblem::TooLong => words.class_link_long(),
        LinkProblem::Damaged => words.class_link_damaged(),
        LinkProblem::Newer => words.class_link_newer(),
        LinkProblem::OutOfRange => words.class_link_range(),
    };
    view! {
        {plain_head(app, words.class_join(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack">
            {alert(why)}
            <p>{words.class_link_ask()}</p>
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}

fn welcome(app: App, invitation: Invitation) -> Tree {
    let words = app.w();
    let typed = RwSignal::new(String::new());
    let tried = RwSignal::new(false);
    let most = invitation.setup.numbers;
    let chosen = move || {
        let number = typed.get().trim().parse::<u8>().ok();
        number.filter(|number| (1..=most).contains(number))
    };
    let known = untrack(|| app.class(&invitation.class.to_string()).is_some());
    let setup = invitation.setup.clone();
    let station = {
        let invitation = invitation.clone();
        move || app.add_class(Some(invitation.class), invitation.setup.clone())
    };
    let go = move || match untrack(chosen) {
        Some(number) => app.begin_visit(invitation.clone(), number),
        None => {
            tried.set(true);
            (app.ports().focus)("number");
        }
    };
    let problem = move || {
        let wrong = tried.get() && chosen().is_none();
        let said = || app.w().class_number_problem(u32::from(most));
        wrong.then(|| field_problem("number-problem".to_owned(), said(), Vec::new()))
    };
    let begin = words.class_begin();
    let teacher = if known { words.class_open() } else { words.class_as_station() };
    view! {
        {plain_head(app, setup.label.clone(), &Route::Home)}
        <main id="main" tabindex="-1" class="form pad stack-wide">
            <p class="lead">{words.class_join_note(&setup.label)}</p>
            <section class="stack">
                <h2>{words.class_setup()}</h2>
                {setup_lines(&words, &setup)}
            </section>
            <section class="stack">
                <h2>{words.class_what_happens()}</h2>
                <ul class="dots">
                    <li>{words.class_happens_1()}</li>
                    <li>{words.class_happens_2()}</li>
                    <li>{words.class_happens_3()}</li>
                    <li>{words.class_happens_4()}</li>
                </ul>
            </section>
            {text_field(
                "number",
                words.class_your_number(),
                Some(words.class_your_number_note()),
                true,
                typed.into(),
                move |text| typed.set(text),
            )}
            {problem}
            <details>
                <summary>{words.class_teacher()}</summary>
                <p>{words.class_teacher_note()}</p>
                <div class="row">{button(teacher, station)}</div>
            </details>
        </main>
        {floor(act(move || begin.clone(), go))}
    }
    .into_tree()
}

/// Back to the way in, for a retake or the next pupil on a shared tablet.
pub(super) fn again(app: App) -> Option<Tree> {
    let (visit, _) = app.finished.get()?;
    let code = two_marks::class::write_link(&visit.invitation)?;
    let label = app.w().class_next_pupil();
    Some(view! { <a class="btn" href=to(ClassPage::Join(code))>{label}</a> }.into_tree())
}
