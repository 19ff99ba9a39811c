use crate::ui::prelude::*;

use two_marks::card::{Card, read_card};
use two_marks::class::LinkProblem;
use two_marks::history::{Born, NICKNAME_MAX, Person, clean_line};
use two_marks::share::Route;
use two_marks::text::Words;

use super::common::plain_head;
use crate::ui::components::{act_link, alert, button, field_problem, floor, text_field};
use crate::ui::state::App;

/// Behind the link of a card: what it tells, and nothing of this device. Nothing is kept unless the
/// person asks.
pub fn page(app: App, code: &str) -> Tree {
    let words = app.w();
    let body = match read_card(code) {
        Ok(card) => shown(app, card),
        Err(problem) => refused(&words, problem),
    };
    view! {
        {plain_head(app, words.card_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="form pad stack-wide">{body}</main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}

fn refused(words: &Words, problem: LinkProblem) -> Tree {
    view! {
        {alert(words.card_problem(problem))}
        <p>{words.card_link_ask()}</p>
    }
    .into_tree()
}

fn shown(app: App, card: Card) -> Tree {
    let words = app.w();
    view! {
        <p class="lead">{words.card_lead()}</p>
        {told(&words, &card)}
        <div class="stack">
            <p>{words.card_nothing()}</p>
            <p class="soft">{words.card_unchecked()}</p>
        </div>
        {keep(app, card)}
    }
    .into_tree()
}

/// What a card tells, as the one who shares it and the one who opens it see it.
pub(super) fn told(words: &Words, card: &Card) -> Tree {
    let height = words.length(card.best.0, card.division.unit());
    let pairs: Vec<_> = words
        .card_pairs(card)
        .into_iter()
        .map(|(what, said)| {
            view! {
                <dt>{what}</dt>
                <dd>{said}</dd>
            }
        })
        .collect();
    // What a ± means, and that it is our own reckoning.
    let sure = card.usual.map(|_| {
        view! {
            <p>
                <a href=Route::Sure.to_string()>{words.home_sure()}</a>
            </p>
        }
    });
    view! {
        <div class="stack card">
            <p class="lead strong">{words.picture_file_title(&height)}</p>
            <dl class="pairs">{pairs}</dl>
            {sure}
        </div>
    }
    .into_tree()
}

/// The way to keep it. Nobody of this device is named before it is asked for.
fn keep(app: App, card: Card) -> Tree {
    let words = app.w();
    if let Some(why) = card.no_record() {
        return view! { <p class="soft">{words.card_no_record(why)}</p> }.into_tree();
    }
    let asked = RwSignal::new(false);
    (move || {
        if asked.get() {
            whose(app, card.clone())
        } else {
            let ask = button(app.w().card_keep(), move || asked.set(true));
            view! { <div class="row">{ask}</div> }.into_tree()
        }
    })
    .into_tree()
}

/// Whose jump it is: somebody of this device, or somebody new.
fn whose(app: App, card: Card) -> Tree {
    let words = app.w();
    let people: Vec<Person> =
        app.people.get_untracked().into_iter().filter(|one| !one.archived).collect();
    let rows: Vec<_> = people
        .into_iter()
        .map(|person| {
            let card = card.clone();
            button(person.nickname.clone(), move || {
                app.show_person(Some(person.local.clone()));
                app.open_card(&card);
            })
        })
        .collect();
    let name = RwSignal::new(card.name.clone());
    let is_nameless = RwSignal::new(false);
    let add = button(words.who_add(), move || {
        let nickname = clean_line(&name.get_untracked(), NICKNAME_MAX);
        is_nameless.set(nickname.is_empty());
        if nickname.is_empty() {
            return (app.ports().focus)("card-name");
        }
        let (born, division) = (card.age.map(Born::Group), card.division);
        let make = move |person: &mut Person| {
            person.nickname = nickname;
            person.born = born;
            person.division = division;
        };
        let card = card.clone();
        app.add_person(make, move || app.open_card(&card));
    });
    let problem = move || {
        let said = || app.w().who_bad_name();
        is_nameless.get().then(|| field_problem("card-name-problem".to_owned(), said(), Vec::new()))
    };
    view! {
        <section class="stack">
            <h2>{words.card_keep()}</h2>
            <p>{words.card_keep_note()}</p>
            <p>{words.class_keep_note()}</p>
            <div class="row">{rows}</div>
            {text_field(
                "card-name",
                words.who_name(),
                Some(words.who_name_note()),
                false,
                name.into(),
                move |text| name.set(text),
            )}
            {problem}
            <div class="row">{add}</div>
        </section>
    }
    .into_tree()
}
