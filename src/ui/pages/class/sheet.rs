use crate::ui::prelude::*;

use two_marks::class::{Row, rows, test_days};
use two_marks::history::{Class, MarkMethod};
use two_marks::measure::{Outcome, Reach};
use two_marks::share::{ClassPage, Route};
use two_marks::text::{DateForm, Words};

use super::super::common::plain_head;
use super::to;
use crate::ui::components::{act, button, floor};
use crate::ui::state::App;

/// The sheet of a class to print: filled with the newest day, or blank for a lesson without phones.
pub fn page(app: App, class: Class) -> Tree {
    let words = app.w();
    let blank = RwSignal::new(test_days(&untrack(|| app.class_results(class.id))).is_empty());
    let back = ClassPage::Of(class.id.to_string());
    let print = words.class_print();
    let toggle = button(words.class_sheet_other(), move || blank.update(|blank| *blank = !*blank));
    let back_to = to(back.clone());
    view! {
        {plain_head(app, class.setup.label.clone(), &Route::Class(back))}
        <main id="main" tabindex="-1" class="pad stack class-sheet">
            <p class="strong">{words.class_not_for_grading()}</p>
            <div class="row no-print">{toggle}</div>
            {move || sheet(app, &class, blank.get())}
            <p class="small">{words.class_sheet_note()}</p>
        </main>
        {floor(view! {
            {act(move || print.clone(), move || (app.ports().print)())}
            {super::plain_link(words.class_back(), back_to)}
        })}
    }
    .into_tree()
}

fn sheet(app: App, class: &Class, blank: bool) -> Tree {
    let words = app.w();
    let results = app.class_results(class.id);
    let day = test_days(&results).first().copied().filter(|_| !blank);
    // A blank sheet has the rows of a day on which nothing was done.
    let all = rows(class, &results, day.unwrap_or_default());
    let title =
        day.map_or_else(|| words.class_sheet_blank(), |day| words.date(day, DateForm::Full));
    let trials = usize::from(class.setup.trials);
    let heads: Vec<_> = (1..=trials)
        .map(|at| view! { <th scope="col" class="num">{words.jumps_trial(&at.to_string())}</th> })
        .collect();
    let with_reach = class.setup.marks == MarkMethod::FromFloor;
    let reach =
        with_reach.then(|| view! { <th scope="col" class="num">{words.result_reach()}</th> });
    let body: Vec<_> = all.iter().map(|row| line(&words, class, row, trials)).collect();
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=words.class_sheet()>
            <table class="roster">
                <caption>{title}</caption>
                <thead>
                    <tr>
                        <th scope="col">{words.class_no()}</th>
                        {reach}
                        {heads}
                        <th scope="col" class="num">{words.class_best()}</th>
                    </tr>
                </thead>
                <tbody>{body}</tbody>
            </table>
        </div>
    }
    .into_tree()
}

fn line(words: &Words, class: &Class, row: &Row, trials: usize) -> Tree {
    let unit = class.setup.division.unit();
    let session = row.result.as_ref().map(|result| &result.session);
    let with_reach = class.setup.marks == MarkMethod::FromFloor;
    let reach = session.filter(|session| matches!(session.reach, Reach::Measured(_)));
    let reach = reach.and_then(|session| session.standing_reach());
    let reach = reach.map(|reach| words.exact_number(reach.0, unit)).unwrap_or_default();
    let outcomes = session.map(|session| session.outcomes()).unwrap_or_default();
    let cells: Vec<_> = (0..trials)
        .map(|at| {
            let said = match outcomes.get(at) {
                Some(Outcome::Counted(height)) => words.exact_number(height.0, unit),
                Some(Outcome::Foul(_)) => words.jumps_foul_word(),
                Some(Outcome::NoReach) | None => String::new(),
            };
            view! { <td class="num">{said}</td> }
        })
        .collect();
    let best = row.best.map(|best| words.exact_number(best.0, unit)).unwrap_or_default();
    view! {
        <tr>
            <th scope="row">{row.number.to_string()}</th>
            {with_reach.then(|| view! { <td class="num">{reach}</td> })}
            {cells}
            <td class="num">{best}</td>
        </tr>
    }
    .into_tree()
}
