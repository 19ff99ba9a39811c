use crate::ui::prelude::*;

use two_marks::class::lesson_plan;
use two_marks::share::{ClassPage, Route};

use super::super::common::plain_head;
use super::{button_link, to};
use crate::ui::components::{act_link, floor, text_field};
use crate::ui::state::App;

/// All classes of this device.
pub fn page(app: App) -> Tree {
    let words = app.w();
    view! {
        {plain_head(app, words.class_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack-wide">
            <p>{words.class_purpose()}</p>
            {move || rows(app)}
            <p class="soft">{words.class_paper_list()}</p>
            {button_link(words.class_lesson(), ClassPage::Lesson)}
        </main>
        {floor(act_link(words.class_prepare(), to(ClassPage::New)))}
    }
    .into_tree()
}

fn rows(app: App) -> Tree {
    let words = app.w();
    let (away, here): (Vec<_>, Vec<_>) =
        app.classes().into_iter().partition(|class| class.archived);
    let row = |class: two_marks::history::Class| {
        view! {
            <li>
                <a class="reading" href=to(ClassPage::Of(class.id.to_string()))>
                    {class.setup.label}
                </a>
            </li>
        }
    };
    if here.is_empty() && away.is_empty() {
        return view! { <p class="empty">{words.class_none()}</p> }.into_tree();
    }
    let here: Vec<_> = here.into_iter().map(row).collect();
    let put_away = (!away.is_empty()).then(|| {
        let away: Vec<_> = away.into_iter().map(row).collect();
        view! {
            <details>
                <summary>{words.class_archived()}</summary>
                <ul class="readings">{away}</ul>
            </details>
        }
    });
    view! {
        <ul class="readings">{here}</ul>
        {put_away}
    }
    .into_tree()
}

/// How long a lesson takes, and what to say.
pub fn lesson(app: App) -> Tree {
    let words = app.w();
    let (pupils, walls) = (RwSignal::new("30".to_owned()), RwSignal::new("2".to_owned()));
    let list = |lines: Vec<String>| {
        let lines: Vec<_> = lines.into_iter().map(|line| view! { <li>{line}</li> }).collect();
        view! { <ul class="dots">{lines}</ul> }.into_tree()
    };
    view! {
        {plain_head(app, words.class_lesson(), &Route::Class(ClassPage::List))}
        <main id="main" tabindex="-1" class="form pad stack-wide">
            {text_field("pupils", words.class_pupils(), None, true, pupils.into(), move |text| {
                pupils.set(text);
            })}
            {text_field("walls", words.class_walls(), None, true, walls.into(), move |text| {
                walls.set(text);
            })}
            <div role="status">{move || plan(app, &pupils.get(), &walls.get())}</div>
            <section class="stack">
                <h2>{words.class_before()}</h2>
                {list(vec![
                    words.class_before_1(),
                    words.class_before_2(),
                    words.class_before_3(),
                    words.class_before_4(),
                ])}
            </section>
            <section class="stack">
                <h2>{words.class_talk()}</h2>
                {list(vec![
                    words.class_talk_1(),
                    words.class_talk_2(),
                    words.class_talk_3(),
                    words.class_talk_4(),
                    words.class_talk_5(),
                    words.class_talk_6(),
                ])}
            </section>
            <p class="strong">{words.class_not_for_grading()}</p>
        </main>
        {floor(act_link(words.class_all(), to(ClassPage::List)))}
    }
    .into_tree()
}

fn plan(app: App, pupils: &str, walls: &str) -> Tree {
    let words = app.w();
    let number = |text: &str| text.trim().parse().ok().filter(|number| (1..=200).contains(number));
    let plan =
        number(pupils).zip(number(walls)).and_then(|(pupils, walls)| lesson_plan(pupils, walls));
    let Some(plan) = plan else {
        return view! { <p>{words.class_plan_numbers()}</p> }.into_tree();
    };
    let rows = [
        (words.class_plan_talk(), plan.talk),
        (words.step_warm_up(), plan.warm_up),
        (words.class_plan_testing(), plan.testing),
        (words.class_plan_end(), plan.end),
        (words.class_plan_total(), plan.total),
    ];
    let rows: Vec<_> = rows
        .into_iter()
        .map(|(label, minutes)| {
            view! {
                <tr>
                    <th scope="row">{label}</th>
                    <td class="num">{words.class_minutes(minutes)}</td>
                </tr>
            }
        })
        .collect();
    view! {
        <table>
            <caption>{words.class_plan()}</caption>
            <tbody>{rows}</tbody>
        </table>
        <p>{words.class_plan_walls(plan.walls_needed)}</p>
        <p class="small soft">{words.class_plan_source()}</p>
    }
    .into_tree()
}
