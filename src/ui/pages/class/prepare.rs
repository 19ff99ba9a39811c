use crate::ui::prelude::*;

use two_marks::history::{CLASS_STEPS_MAX, Class, ClassSetup, MarkMethod, Shown, class_label};
use two_marks::measure::{TakeOff, Variant};
use two_marks::quantity::{AgeGroup, Division, Unit};
use two_marks::share::{ClassPage, Route};

use super::super::common::plain_head;
use crate::ui::components::{
    Choice, Icon, act, check_row, field_problem, floor, notice, pick, select_field, text_field,
};
use crate::ui::state::App;

/// Prepare a class: everything that a link will carry.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let usual = ClassSetup::usual(String::new(), Division::usual(app.first_unit()));
    let back = Route::Class(ClassPage::List);
    form(app, usual, None, words.class_prepare(), &back, move |setup| app.add_class(None, setup))
}

/// The set-up of a class once more. While no result exists it changes; afterwards results would no
/// longer fit it, so it becomes a new class with the same numbers.
pub fn change_page(app: App, class: Class) -> Tree {
    let words = app.w();
    let has_results = untrack(|| !app.class_results(class.id).is_empty());
    let (note, save) = if has_results {
        (words.class_setup_copy_note(), words.class_setup_copy())
    } else {
        (words.class_setup_change_note(), words.class_setup_save())
    };
    let back = Route::Class(ClassPage::Of(class.id.to_string()));
    let setup = class.setup.clone();
    form(app, setup, Some(note), save, &back, move |setup| {
        if has_results {
            app.copy_class(&class, setup);
        } else {
            app.change_class_setup(&class, setup);
        }
    })
}

fn form(
    app: App,
    first: ClassSetup,
    note: Option<String>,
    make: String,
    back: &Route,
    keep: impl Fn(ClassSetup) + 'static,
) -> Tree {
    let words = app.w();
    let title = if note.is_some() { words.class_setup() } else { words.class_prepare() };
    let note = note.map(|note| view! { <p class="strong">{note}</p> });
    let label = RwSignal::new(first.label.clone());
    let setup = RwSignal::new(first);
    let tried = RwSignal::new(false);
    let save = move || {
        let whole =
            ClassSetup { label: class_label(&label.get_untracked()), ..setup.get_untracked() };
        if whole.is_valid() {
            keep(whole);
        } else {
            tried.set(true);
            (app.ports().focus)("label");
        }
    };
    let problem = move || {
        let wrong = tried.get() && class_label(&label.get()).is_empty();
        wrong.then(|| {
            field_problem("label-problem".to_owned(), app.w().class_label_problem(), Vec::new())
        })
    };
    let number_list = |values: Vec<u32>| -> Vec<(String, String)> {
        values.into_iter().map(|value| (value.to_string(), value.to_string())).collect()
    };
    let seconds: Vec<_> = [0_u32, 15, 30, 45, 60, 90, 120]
        .into_iter()
        .map(|value| (value.to_string(), words.class_rest(value)))
        .collect();
    let runs_up =
        untrack(move || setup.with(|setup| matches!(setup.variant, Variant::Approach { .. })));
    view! {
        {plain_head(app, title, back)}
        <main id="main" tabindex="-1" class="form pad stack-wide">
            {note}
            {text_field(
                "label",
                words.class_label(),
                Some(words.class_label_note()),
                false,
                label.into(),
                move |text| label.set(text),
            )}
            {problem}
            {runs_up.then(|| jump(app, setup))}
            {chosen(app, setup)}
            {select_field(
                "numbers",
                words.class_how_many(),
                number_list((1..=60).collect()),
                Signal::derive(move || setup.with(|setup| setup.numbers.to_string())),
                move |text| put(setup, &text, |setup, number| setup.numbers = number),
            )}
            {select_field(
                "trials",
                words.class_trials_label(),
                number_list((1..=6).collect()),
                Signal::derive(move || setup.with(|setup| setup.trials.to_string())),
                move |text| put(setup, &text, |setup, number| setup.trials = number),
            )}
            {select_field(
                "rest",
                words.class_rest_label(),
                seconds,
                Signal::derive(move || setup.with(|setup| setup.rest_seconds.to_string())),
                move |text| put(setup, &text, |setup, number| setup.rest_seconds = u16::from(number)),
            )}
            <fieldset class="checks">
                <legend class="label">{words.class_checks()}</legend>
                {check_row(
                    "ready",
                    words.step_ready(),
                    Signal::derive(move || setup.with(|setup| setup.ready_check)),
                    move |on| setup.update(|setup| setup.ready_check = on),
                )}
                {check_row(
                    "warm",
                    words.step_warm_up(),
                    Signal::derive(move || setup.with(|setup| setup.warm_up)),
                    move |on| setup.update(|setup| setup.warm_up = on),
                )}
                {check_row(
                    "spread",
                    words.class_shows_spread(),
                    Signal::derive(move || setup.with(|setup| setup.shown == Shown::NumberAndSpread)),
                    move |on| setup.update(|setup| {
                        setup.shown = if on { Shown::NumberAndSpread } else { Shown::Number };
                    }),
                )}
            </fieldset>
        </main>
        {floor(act(move || make.clone(), save))}
    }
    .into_tree()
}

fn put(setup: RwSignal<ClassSetup>, text: &str, change: impl FnOnce(&mut ClassSetup, u8)) {
    if let Ok(number) = text.parse() {
        setup.update(|setup| change(setup, number));
    }
}

fn field(label: String, id: &'static str, body: Tree) -> Tree {
    view! {
        <div class="field">
            <p class="label" id=format!("{id}-label")>{label}</p>
            {body}
        </div>
    }
    .into_tree()
}

/// Which jump, of a class prepared with a run-up earlier. No class is offered one.
fn jump(app: App, setup: RwSignal<ClassSetup>) -> Tree {
    let words = app.w();
    let runs_up =
        Memo::new(move |_| setup.with(|setup| matches!(setup.variant, Variant::Approach { .. })));
    let jumps =
        vec![Choice::new(false, words.jump_standing()), Choice::new(true, words.jump_approach())];
    let chosen = Signal::derive(move || Some(runs_up.get()));
    let choose = move |run_up: bool| {
        let variant = if run_up {
            Variant::Approach { steps: 2, take_off: TakeOff::TwoFeet }
        } else {
            Variant::Standing
        };
        setup.update(|setup| setup.variant = variant);
    };
    let more = move || {
        let words = app.w();
        let now = move || match setup.with(|setup| setup.variant) {
            Variant::Approach { steps, take_off } => (steps, take_off),
            _ => (2, TakeOff::TwoFeet),
        };
        let put = move |steps, take_off| {
            setup.update(|setup| setup.variant = Variant::Approach { steps, take_off });
        };
        let steps = (1..=CLASS_STEPS_MAX).map(|steps| Choice::new(steps, steps.to_string()));
        let take_offs = vec![
            Choice::new(TakeOff::OneFoot, words.setup_one_foot()),
            Choice::new(TakeOff::TwoFeet, words.setup_two_feet()),
        ];
        let label = |id: &str| format!("{id}-label");
        view! {
            {notice(Icon::Stop, view! {
                <p>{words.class_run_up_warning()}</p>
                <p>{words.setup_approach_safety()}</p>
                <p>{words.setup_approach_more()}</p>
            })}
            {field(words.setup_steps(), "steps", pick(
                "steps",
                label("steps"),
                steps.collect(),
                Signal::derive(move || Some(now().0)),
                move |steps| put(steps, untrack(now).1),
            ))}
            {field(words.setup_take_off(), "take-off", pick(
                "take-off",
                label("take-off"),
                take_offs,
                Signal::derive(move || Some(now().1)),
                move |take_off| put(untrack(now).0, take_off),
            ))}
        }
        .into_tree()
    };
    view! {
        {field(words.setup_which(), "jump", pick("jump", "jump-label".to_owned(), jumps, chosen, choose))}
        {move || runs_up.get().then(more)}
    }
    .into_tree()
}

fn chosen(app: App, setup: RwSignal<ClassSetup>) -> Tree {
    let words = app.w();
    let marks = vec![
        Choice::new(MarkMethod::FromFloor, words.setup_floor()),
        Choice::new(MarkMethod::BetweenMarks, words.setup_between()),
    ];
    let units = vec![
        Choice::new(Unit::Centimetre, words.unit_cm_long()),
        Choice::new(Unit::Inch, words.unit_in_long()),
    ];
    let reaches =
        vec![Choice::new(1_u8, words.class_reaches(1)), Choice::new(3_u8, words.class_reaches(3))];
    let ages = vec![
        Choice::new(None, words.class_age_none()),
        Choice::new(Some(AgeGroup::Under12), words.who_age_under_12()),
        Choice::new(Some(AgeGroup::From12To14), words.who_age_12_14()),
        Choice::new(Some(AgeGroup::From15To17), words.who_age_15_17()),
        Choice::new(Some(AgeGroup::Adult), words.who_age_adult()),
    ];
    let label = |id: &str| format!("{id}-label");
    let of = move |read: fn(&ClassSetup) -> MarkMethod| {
        Signal::derive(move || setup.with(|s| Some(read(s))))
    };
    let unit = Signal::derive(move || setup.with(|setup| Some(setup.division.unit())));
    let divisions = move || {
        let words = app.w();
        let unit = setup.with(|setup| setup.division.unit());
        let all = Division::ALL.into_iter().filter(|division| division.unit() == unit);
        let choices = all.map(|division| Choice::new(division, words.division(division))).collect();
        let chosen = Signal::derive(move || setup.with(|setup| Some(setup.division)));
        pick("division", label("division"), choices, chosen, move |division| {
            setup.update(|setup| setup.division = division);
        })
    };
    let by_unit = Memo::new(move |_| setup.with(|setup| setup.division.unit()));
    view! {
        {field(words.setup_measure(), "marks", pick("marks", label("marks"), marks, of(|s| s.marks), move |marks| {
            setup.update(|setup| setup.marks = marks);
        }))}
        {field(words.who_units(), "unit", pick("unit", label("unit"), units, unit, move |unit| {
            setup.update(|setup| setup.division = Division::usual(unit));
        }))}
        {field(
            words.setup_division(),
            "division",
            (move || {
                by_unit.track();
                untrack(divisions)
            })
                .into_tree(),
        )}
        {field(words.class_reaches_label(), "reaches", pick(
            "reaches",
            label("reaches"),
            reaches,
            Signal::derive(move || setup.with(|setup| Some(setup.reaches))),
            move |reaches| setup.update(|setup| setup.reaches = reaches),
        ))}
        {field(words.class_age(), "age", pick(
            "age",
            label("age"),
            ages,
            Signal::derive(move || setup.with(|setup| Some(setup.age))),
            move |age| setup.update(|setup| setup.age = age),
        ))}
    }
    .into_tree()
}
