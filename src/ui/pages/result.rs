use crate::ui::prelude::*;

use two_marks::assess::Assessment;
use two_marks::chart::{Frame, NoteLine, ResultWall, ResultWords, Usual, result_wall};
use two_marks::history::Test;
use two_marks::measure::{Outcome, Reach, Trial};
use two_marks::quantity::{Length, Unit};
use two_marks::share::Route;
use two_marks::text::{DateForm, Words};

use super::check::rough_words;
use super::common::{plain_head, step_head, tick_label};
use super::{result_bands, result_more, result_record};
use crate::ui::components::{Icon, act_link, button, drawing_box, floor, icon, notice};
use crate::ui::state::{App, Notice};

/// One saved test.
pub fn page(app: App, id: String) -> Tree {
    (move || match app.test(&id) {
        Some(test) => {
            app.show_owner(&test);
            shown(app, test)
        }
        None => gone(app),
    })
    .into_tree()
}

fn gone(app: App) -> Tree {
    let words = app.w();
    // "Deleted" is said when it is on the disk, as "saved" is.
    let on_its_way = app.notice.get() == Some(Notice::Saving);
    let saving = on_its_way.then(|| notice(Icon::Hourglass, words.saving()));
    let deleted = app.deleted.get().filter(|_| !on_its_way);
    let unsure = app.notice.get() == Some(Notice::DeletedUnsure);
    let restore = deleted.map(|test| {
        let said = if unsure { words.deleted_unsure() } else { words.result_deleted() };
        let date = words.date(test.date, DateForm::DayAndMonth);
        notice(
            Icon::Undo,
            view! {
                <p>{words.history_deleted(&date)}</p>
                <p class="small">{said}</p>
                {button(words.result_restore(), move || app.bring_back(&test))}
            },
        )
    });
    let lost = (restore.is_none() && !on_its_way)
        .then(|| view! { <p class="pad">{words.result_lost()}</p> });
    view! {
        {plain_head(app, words.result_title(), &Route::Home)}
        <main id="main" tabindex="-1">{saving} {restore} {lost}</main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}

fn shown(app: App, test: Test) -> Tree {
    let words = app.w();
    let assessed = app.assess(&test);
    let unit = test.session.division.unit();
    let place = RwSignal::new(0_usize);
    view! {
        {step_head(app, 4, words.result_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="result">
            {wall(app, &test, &assessed, unit, place)}
            <div class="result__text">
                {saved(app, test.id)}
                {result_record::changed(app, &test)}
                {sentences(app, &test, &assessed, unit)}
                {result_bands::section(app, &test, &assessed, place)}
                {result_more::section(app, &test)}
                {readings(&words, &test, unit)}
                {result_record::section(app, &test, &assessed)}
                {more(app, &test)}
            </div>
        </main>
        {floor(act_link(words.result_next(), Route::Home.to_string()))}
    }
    .into_tree()
}

/// The wall with both marks, the hatched zone, and one published source beside it.
fn wall(app: App, test: &Test, assessed: &Assessment, unit: Unit, place: RwSignal<usize>) -> Tree {
    let words = app.w();
    let Some(best) = assessed.best else {
        return Tree::Nothing;
    };
    let best_said = words.length(best.0, unit);
    let usual = assessed.usual.zip(assessed.standard_error);
    let usual_said = usual.map(|(usual, error)| {
        words.result_usual_sentence(&words.length(usual.height.0, unit), &words.spread(error, unit))
    });
    let bands = result_bands::spoken(app, assessed, unit);
    let said = words.result_wall_label(&best_said, &usual_said.unwrap_or_default(), &bands);
    let (test, assessed) = (test.clone(), assessed.clone());
    let draw = move |frame: Frame| {
        let words = app.w();
        let session = &test.session;
        let reach = session.standing_reach().map(|reach| reach.0);
        let usual = assessed
            .usual
            .zip(assessed.standard_error)
            .map(|(usual, error)| Usual { height: usual.height.0, error });
        let usual_words = usual.map(|usual| {
            words.result_usual(
                &words.length_number(usual.height, unit),
                &words.spread_number(usual.error, unit),
            )
        });
        let usual_words = usual_words.unwrap_or_default();
        let number = words.length_number(best.0, unit);
        // Without a reach the mark stands at the height itself, and so says the same.
        let mark = reach.map(|reach| words.exact_number(reach + best.0, unit));
        let mark_number = mark.unwrap_or_else(|| number.clone());
        let reach_number = words.exact_number(reach.unwrap_or(Length::ZERO), unit);
        let unit_words = words.two_things(&words.unit_sign(unit), &words.result_best_today());
        let is_clock = session.key.device.is_clock();
        let (jump_mark, reach_words) = if is_clock {
            (words.clock_top_mark(), words.clock_takeoff_mark())
        } else {
            (words.result_mark_word(), words.result_reach_mark())
        };
        let beside = result_bands::beside_wall(app, &assessed, unit, place.get());
        let head = beside.head.clone();
        let date = words.date(test.date, DateForm::DayAndMonth);
        let tired = words.history_tired();
        let mut note = vec![
            NoteLine { text: &head, is_head: true, has_flag: false },
            NoteLine { text: &date, is_head: false, has_flag: false },
        ];
        if assessed.is_tired {
            note.push(NoteLine { text: &tired, is_head: false, has_flag: true });
        }
        note.retain(|line| !line.text.is_empty());
        let sign = words.unit_sign(unit);
        let above = if is_clock {
            words.clock_above_takeoff(&sign)
        } else {
            words.result_above_reach(&sign)
        };
        let strips = beside.strips();
        result_wall(&ResultWall {
            frame,
            unit,
            standing_reach: reach,
            best: best.0,
            usual,
            reference: beside.reference(&strips),
            standing: beside.standing(),
            tick_label: &tick_label(&words, unit),
            words: ResultWords {
                number: &number,
                unit: &unit_words,
                usual: &usual_words,
                jump_mark: &jump_mark,
                jump_mark_number: &mark_number,
                reach_number: &reach_number,
                reach: &reach_words,
                reference: &beside.title,
                reference_unit: &above,
                note: &note,
            },
        })
        .drawing
    };
    drawing_box(
        "drawing-box result-box",
        "result",
        Signal::derive(move || said.clone()),
        app.resized.into(),
        draw,
    )
}

fn saved(app: App, id: two_marks::history::Id) -> Tree {
    (move || {
        let words = app.w();
        match app.notice_about(id) {
            Some(Notice::Saving) => notice(Icon::Hourglass, words.saving()),
            Some(now @ (Notice::Saved | Notice::SavedUnsure)) => {
                let (sign, said) = match now {
                    _ if !app.is_kept() => (Icon::Info, words.not_saved_here()),
                    Notice::SavedUnsure => (Icon::Info, words.saved_unsure()),
                    _ => (Icon::Tick, words.saved_on_this_device()),
                };
                notice(
                    sign,
                    view! {
                        <p>{said}</p>
                        <div class="row">
                            {button(words.result_undo_save(), move || app.delete_test(id))}
                        </div>
                    },
                )
            }
            _ => Tree::Nothing,
        }
    })
    .into_tree()
}

fn sentences(app: App, test: &Test, assessed: &Assessment, unit: Unit) -> Tree {
    let words = &app.w();
    let best = assessed.best.map(|best| words.result_best_sentence(&words.length(best.0, unit)));
    let error = assessed.standard_error.map(|error| words.spread(error, unit));
    let usual = match (assessed.usual, &error) {
        (Some(usual), Some(error)) => {
            let height = words.length(usual.height.0, unit);
            match usual.trials {
                3.. => words.result_usual_sentence(&height, error),
                few => words.result_usual_few(&height, error, u32::try_from(few).unwrap_or(1)),
            }
        }
        _ => words.result_no_usual(),
    };
    let hatch = error.filter(|_| assessed.usual.is_some()).map(|error| {
        view! {
            <h2>{words.result_hatch_title(&error)}</h2>
            <p>{words.result_hatch()}</p>
            <p class="small soft">{words.result_hatch_prior()}</p>
        }
    });
    let tired = assessed.is_tired.then(|| {
        view! { <p class="flagline">{icon(Icon::Flag)} {words.result_tired()}</p> }
    });
    let rough: Vec<_> = assessed
        .rough
        .iter()
        .map(|reason| view! { <li>{rough_words(words, *reason)}</li> })
        .collect();
    let rough = (!rough.is_empty()).then(|| {
        view! {
            <p>{words.result_rough()}</p>
            <ul class="dots">{rough}</ul>
        }
    });
    let practice = assessed.is_practice.then(|| {
        view! { <p class="soft">{words.result_first_practice()}</p> }
    });
    view! {
        <section class="pad stack">
            <p class="lead strong">{best}</p>
            <p>{usual}</p>
            <p class="soft">{words.test_kind(test.session.key)}</p>
            {super::clock_said::result_lines(app, test, assessed, unit)}
            {tired}
            {rough}
            {practice}
            {hatch}
        </section>
    }
    .into_tree()
}

fn readings(words: &Words, test: &Test, unit: Unit) -> Tree {
    let session = &test.session;
    let reach = match &session.reach {
        Reach::Measured(readings) => {
            let list = readings.iter().map(|reading| words.reading(*reading));
            list.reduce(|all, next| words.two_things(&all, &next)).unwrap_or_default()
        }
        Reach::Reused { reading, measured_on } => {
            let date = words.date(*measured_on, DateForm::Full);
            words.two_things(&words.reading(*reading), &date)
        }
        Reach::MarkOnly if session.key.device.is_clock() => words.device(session.key.device),
        Reach::MarkOnly => words.setup_between(),
    };
    let is_clock = session.key.device.is_clock();
    let reach_name = if is_clock { words.clock_which() } else { words.result_reach() };
    let outcomes = session.outcomes();
    let rows: Vec<_> = session
        .trials
        .iter()
        .zip(outcomes)
        .enumerate()
        .map(|(at, (trial, outcome))| {
            let number = words.locale().decimal(i64::try_from(at + 1).unwrap_or(1), 0);
            let said = match (trial, outcome) {
                (Trial::Foul(reason), _) => {
                    words.two_things(&words.jumps_foul_word(), &words.foul_reason(*reason))
                }
                (Trial::FlightTime(time), Outcome::Counted(height)) => {
                    words.two_things(&words.flight_time(*time), &words.length(height.0, unit))
                }
                (_, Outcome::Counted(height)) => words.length(height.0, unit),
                _ => String::new(),
            };
            view! {
                <tr>
                    <th scope="row">{words.jumps_trial(&number)}</th>
                    <td class="num">{said}</td>
                </tr>
            }
        })
        .collect();
    view! {
        <details class="pad">
            <summary>{words.result_readings()}</summary>
            <dl class="pairs">
                <dt>{words.result_when()}</dt>
                <dd>{words.date(test.date, DateForm::Full)}</dd>
                <dt>{reach_name}</dt>
                <dd>{reach}</dd>
            </dl>
            <table>
                <caption>{words.result_trials()}</caption>
                <tbody>{rows}</tbody>
            </table>
        </details>
    }
    .into_tree()
}

fn more(app: App, test: &Test) -> Tree {
    let words = app.w();
    let id = test.id;
    view! {
        <section class="pad stack">
            <p class="soft">{words.result_again_note()}</p>
            <div class="row">
                <a class="btn" href=Route::Sure.to_string()>
                    {words.home_sure()}
                </a>
                <a class="btn" href=Route::Bands.to_string()>
                    {words.home_bands()}
                </a>
                <a class="btn" href=Route::Season.to_string()>
                    {words.season_title()}
                </a>
                <a class="btn" href=Route::Picture(id.to_string()).to_string()>
                    {words.picture_title()}
                </a>
                <a class="btn" href=Route::HandOn(id.to_string()).to_string()>
                    {words.card_share_title()}
                </a>
                {button(words.result_delete(), move || app.delete_test(id))}
            </div>
        </section>
    }
    .into_tree()
}
