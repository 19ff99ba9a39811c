use crate::ui::prelude::*;

use two_marks::flow::Judged;
use two_marks::measure::{Doubt, Problem};
use two_marks::quantity::{Length, Unit};
use two_marks::share::Route;
use two_marks::text::Words;

use crate::ui::components::{
    StepHeader, act, button, field_problem, floor, page_header, step_header,
};
use crate::ui::state::App;

/// The head of a step of a test.
pub fn step_head(app: App, now: usize, title: String, back_to: &Route) -> Tree {
    let words = app.w();
    let steps = vec![
        words.step_ready(),
        words.step_warm_up(),
        words.step_reach(),
        words.step_jumps(),
        words.step_result(),
    ];
    let done = steps.iter().map(|name| words.step_done(name)).collect();
    let number = |at: usize| words.locale().decimal(i64::try_from(at).unwrap_or(0), 0);
    let name = shown_name(app);
    step_header(StepHeader {
        title,
        count: words.step_of(&number(now + 1), &number(steps.len())),
        steps_label: words.steps_label(),
        steps,
        now,
        done,
        back: words.back(),
        back_to: back_to.to_string(),
        person: (name.clone(), words.person_chip(&name)),
        person_to: person_page(app).to_string(),
    })
}

/// Whose test it is: a person of this device, or a number of a class.
pub(super) fn shown_name(app: App) -> String {
    match app.visit_number() {
        Some(number) => app.w().class_number(&number.to_string()),
        None => app.person().map(|person| person.nickname).unwrap_or_default(),
    }
}

/// Whose test is under way, whoever's tests are shown.
pub(super) fn tester_name(app: App) -> String {
    app.tester().map_or_else(|| shown_name(app), |tester| tester.nickname)
}

/// Where the label of the person leads: nowhere else during a class test.
fn person_page(app: App) -> Route {
    match app.person() {
        Some(person) if !app.is_visiting() => Route::Person(person.id.to_string()),
        _ => app.route.get_untracked(),
    }
}

/// The head of a page that is no step.
pub fn plain_head(app: App, title: String, back_to: &Route) -> Tree {
    page_header(title, app.w().back(), back_to.to_string())
}

/// The main action of a page from which tests begin: the test under way goes on, or `begin` is run.
pub fn start_or_go_on(app: App, begin: impl Fn() + 'static) -> Tree {
    let words = app.w();
    let label = move || {
        if app.progress.with(Option::is_some) {
            words.home_go_on_test()
        } else {
            words.start_test()
        }
    };
    floor(act(label, move || {
        if app.progress.with_untracked(Option::is_some) {
            app.go(&app.where_to_go_on());
        } else {
            begin();
        }
    }))
}

/// Writes a number on the measure.
pub fn tick_label(words: &Words, unit: Unit) -> impl Fn(Length) -> String {
    let words = words.clone();
    move |length| words.tick_number(length, unit)
}

/// What is wrong with the typed reading, and the ways to mend it; nothing while all is well or the
/// person has not tried to keep it.
pub fn entry_problem(app: App, judged: Memo<Judged>) -> Tree {
    let show = move || {
        let judged = judged.get();
        let tried = app.tried.get();
        let empty = judged.problem == Some(Problem::Empty);
        // A question about the value is shown at once; an empty field only after trying.
        let keepable = judged.keepable(app.confirmed.get()).is_some();
        (!keepable && (tried || (judged.problem.is_none() && !empty))).then_some(judged)
    };
    (move || show().map(|judged| problem_view(app, judged))).into_tree()
}

fn problem_view(app: App, judged: Judged) -> Tree {
    let words = app.w();
    let division = app.of_progress(|progress| progress.session.division);
    let sentence = match (judged.problem, judged.doubts.first(), judged.reading, division) {
        (Some(problem), _, _, Some(division)) => words.problem(problem, division),
        (None, Some(doubt), Some(reading), _) => words.doubt(*doubt, reading),
        _ => return Tree::Nothing,
    };
    let mut mends: Vec<Tree> = judged
        .remedies
        .iter()
        .map(|remedy| {
            let remedy = *remedy;
            button(words.remedy(remedy), move || app.mend(remedy))
        })
        .collect();
    if let Some(Problem::FinerThanDivision(finer)) = judged.problem {
        let use_it = words.problem_use_division(&words.division(finer));
        mends.push(button(use_it, move || app.choose_division(finer)));
    }
    let open = judged.doubts.iter().all(|doubt: &Doubt| !doubt.refuses());
    if let Some(reading) = judged.reading.filter(|_| open) {
        let right = words.problem_it_is_right();
        mends.push(button(right, move || app.confirmed.set(Some(reading))));
    }
    field_problem("entry-problem".to_owned(), sentence, mends)
}
