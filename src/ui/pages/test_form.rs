//! The form of a saved or an added test, which two pages show.

use crate::ui::prelude::*;

use two_marks::flow::{FIRST_APPROACH, Finding, FormPlace, FormProblem, TestForm};
use two_marks::history::MarkMethod;
use two_marks::measure::{Hand, Problem, Surface, TakeOff, Variant};
use two_marks::quantity::{Division, Unit};
use two_marks::share::Route;

use super::common::plain_head;
use super::test_form_lists::{reaches, trials};
use crate::ui::components::{
    Choice, FieldText, act, button, check_row, checked_field, field_problem, floor, pick,
    select_field,
};
use crate::ui::state::App;

/// What a page says around the form.
pub(super) struct Shown {
    pub(super) title: String,
    pub(super) note: Option<String>,
    pub(super) save: String,
    pub(super) back_to: Route,
}

/// The form while it is open.
#[derive(Clone, Copy)]
pub(super) struct Open {
    pub(super) app: App,
    pub(super) form: RwSignal<TestForm>,
    pub(super) found: Memo<Vec<Finding>>,
    tried: RwSignal<bool>,
}

pub(super) fn form(app: App, form: TestForm, shown: Shown) -> Tree {
    let words = app.w();
    let before = form.clone();
    let form = RwSignal::new(app.form_as_kept(form));
    Effect::new(move |_| {
        let _ = form.try_with(|form| app.keep_form(&before, form));
    });
    let found = Memo::new(move |_| {
        let find = |form: &TestForm| app.with_form_context(|context| form.findings(context));
        form.with(find).unwrap_or_default()
    });
    let open = Open { app, form, found, tried: RwSignal::new(false) };
    let name = app.person().map(|person| person.nickname).unwrap_or_default();
    let save = move || match found.with_untracked(|found| found.first().map(|first| first.place)) {
        None => app.save_form(form.get_untracked()),
        Some(place) => {
            open.tried.set(true);
            (app.ports().focus)(&element(place));
        }
    };
    let label = shown.save;
    view! {
        {plain_head(app, shown.title, &shown.back_to)}
        <main id="main" tabindex="-1" class="pad stack-wide">
            <p class="lead">{words.form_whose(&name)}</p>
            {shown.note.map(|note| view! { <p>{note}</p> })}
            {when(open)}
            {method(open)}
            {reaches(open)}
            {trials(open)}
            {notes(open)}
            {kind(open)}
            {body(open)}
        </main>
        {floor(view! {
            <a class="btn" href=shown.back_to.to_string() on:click=move |_| app.forget_form()>
                {words.form_cancel()}
            </a>
            {act(move || label.clone(), save)}
        })}
    }
    .into_tree()
}

/// The element that a finding belongs to.
pub(super) fn element(place: FormPlace) -> String {
    match place {
        FormPlace::Date => "form-date".to_owned(),
        FormPlace::Time => "form-time".to_owned(),
        FormPlace::Reach(at) => format!("form-reach-{at}"),
        FormPlace::Reaches => "form-reaches".to_owned(),
        FormPlace::ReachDay => "form-reach-day".to_owned(),
        FormPlace::Trial(at) => format!("form-trial-{at}"),
        FormPlace::Trials => "form-trials".to_owned(),
        FormPlace::Note => "form-note".to_owned(),
        FormPlace::Tags => "form-tags".to_owned(),
        FormPlace::BodyHeight => "form-height".to_owned(),
        FormPlace::BodyMass => "form-mass".to_owned(),
    }
}

impl Open {
    /// What is shown at a place now.
    fn finding(self, place: FormPlace) -> Option<Finding> {
        let tried = self.tried.get();
        self.found.with(|found| {
            let here = found.iter().find(|finding| finding.place == place);
            here.filter(|finding| tried || finding.is_said_at_once()).cloned()
        })
    }

    /// The sentence beside a field, with its one-tap mends.
    pub(super) fn problem(self, place: FormPlace) -> Tree {
        (move || self.finding(place).map(|finding| problem_view(self, finding))).into_tree()
    }

    /// A field of the form.
    pub(super) fn field(
        self,
        place: FormPlace,
        label: String,
        note: Option<String>,
        (kind, keys): (&'static str, &'static str),
        of: fn(&mut TestForm, FormPlace) -> Option<&mut String>,
    ) -> Tree {
        let form = self.form;
        // Reading goes through the same way as writing, on a copy of what is small anyway.
        let value = move || {
            let mut copy = form.get();
            of(&mut copy, place).cloned().unwrap_or_default()
        };
        let write = move |text: String| {
            form.update(|form| {
                if let Some(field) = of(form, place) {
                    *field = text;
                }
            });
        };
        checked_field(
            FieldText { id: element(place), label, note, kind, keys },
            Signal::derive(value),
            Signal::derive(move || self.finding(place).is_some()),
            move || self.problem(place),
            write,
        )
    }
}

fn problem_view(open: Open, finding: Finding) -> Tree {
    let words = open.app.w();
    let division = open.form.with_untracked(|form| form.division);
    let sentence = words.form_problem(finding.problem, division);
    let place = finding.place;
    let mut mends: Vec<Tree> = finding
        .remedies
        .iter()
        .map(|remedy| {
            let (remedy, words) = (*remedy, words.clone());
            button(words.remedy(remedy), move || {
                open.form
                    .update(|form| form.mend(place, remedy, |reading| words.entry_text(reading)));
            })
        })
        .collect();
    if let FormProblem::Reading(Problem::FinerThanDivision(finer)) = finding.problem {
        let use_it = words.problem_use_division(&words.division(finer));
        mends.push(button(use_it, move || open.form.update(|form| form.division = finer)));
    }
    if finding.may_be_right() {
        let right = words.problem_it_is_right();
        mends.push(button(right, move || open.form.update(|form| form.confirm(place))));
    }
    field_problem(format!("{}-problem", element(place)), sentence, mends)
}

fn when(open: Open) -> Tree {
    let words = open.app.w();
    view! {
        <div class="side-by-side">
            {open.field(FormPlace::Date, words.form_date(), None, ("date", "text"), |form, _| {
                Some(&mut form.date)
            })}
            {open.field(FormPlace::Time, words.form_time(), None, ("time", "text"), |form, _| {
                Some(&mut form.time)
            })}
        </div>
        <p class="small soft">{words.form_time_note()}</p>
    }
    .into_tree()
}

fn method(open: Open) -> Tree {
    let words = open.app.w();
    let methods = vec![
        Choice::new(MarkMethod::FromFloor, words.form_marks()),
        Choice::new(MarkMethod::BetweenMarks, words.form_between()),
    ];
    let chosen = Signal::derive(move || Some(open.form.with(|form| form.method)));
    view! {
        <div class="field">
            <p class="label" id="form-way-label">
                {words.form_way()}
            </p>
            {pick("form-way", "form-way-label".to_owned(), methods, chosen, move |method| {
                open.form.update(|form| form.choose_method(method));
            })}
        </div>
    }
    .into_tree()
}

fn notes(open: Open) -> Tree {
    let words = open.app.w();
    let suggested = [
        words.form_tag_shoes(),
        words.form_tag_surface(),
        words.form_tag_practice(),
        words.form_tag_growth(),
    ];
    let chips: Vec<_> = suggested
        .into_iter()
        .map(|tag| {
            let (here, shown) = (tag.clone(), tag.clone());
            let pressed = move || {
                let on = open.form.with(|form| form.tag_list().contains(&here));
                if on { "true" } else { "false" }
            };
            view! {
                <button
                    type="button"
                    class="chip"
                    aria-pressed=pressed
                    on:click=move |_| open.form.update(|form| form.switch_tag(&tag))
                >
                    {shown}
                </button>
            }
        })
        .collect();
    let note = words.form_note();
    let note_note = Some(words.form_note_note());
    view! {
        <section class="stack">
            <h2>{words.form_notes()}</h2>
            {open.field(FormPlace::Note, note, note_note, ("text", "text"), |form, _| {
                Some(&mut form.note)
            })}
            {open.field(
                FormPlace::Tags,
                words.form_tags(),
                Some(words.form_tags_note()),
                ("text", "text"),
                |form, _| Some(&mut form.tags),
            )}
            <div class="chips" role="group" aria-label=words.form_tags()>
                {chips}
            </div>
        </section>
    }
    .into_tree()
}

/// Steps that a run-up may have in a record.
const STEPS: std::ops::RangeInclusive<u8> = 1..=9;

/// Choices as a list to choose from, each by its place.
fn listed<T: Copy + PartialEq + Send + Sync + 'static>(
    id: &str,
    label: String,
    choices: Vec<(T, String)>,
    chosen: impl Fn() -> T + Send + Sync + 'static,
    choose: impl Fn(T) + 'static,
) -> Tree {
    let values: Vec<T> = choices.iter().map(|(value, _)| *value).collect();
    let known = values.clone();
    let options = choices.into_iter().enumerate();
    let options = options.map(|(at, (_, label))| (at.to_string(), label)).collect();
    let value = Signal::derive(move || {
        let chosen = chosen();
        known.iter().position(|value| *value == chosen).map(|at| at.to_string()).unwrap_or_default()
    });
    select_field(id, label, options, value, move |at| {
        if let Some(value) = at.parse().ok().and_then(|at: usize| values.get(at)) {
            choose(*value);
        }
    })
}

fn kind(open: Open) -> Tree {
    let words = open.app.w();
    let form = open.form;
    let variant = move || form.with(|form| form.key.variant);
    let first = variant();
    let mut jumps =
        vec![(Variant::Standing, words.jump_standing()), (FIRST_APPROACH, words.jump_approach())];
    if !matches!(first, Variant::Standing) {
        jumps.retain(|(jump, _)| *jump == Variant::Standing);
        jumps.push((first, words.jump(first)));
    }
    let grounds = [Surface::Firm, Surface::Grass, Surface::Sand, Surface::Mat, Surface::Slope];
    let grounds = grounds.map(|ground| (ground, words.surface(ground))).into();
    let unit = form.with_untracked(|form| form.division.unit());
    let steps = Division::ALL.into_iter().filter(|division| division.unit() == unit);
    let steps = steps.map(|division| (division, words.division(division))).collect();
    let hands = vec![(Hand::Left, words.who_left()), (Hand::Right, words.who_right())];
    let own_way = Signal::derive(move || form.with(|form| form.key.own_way));
    let is_run_up = Memo::new(move |_| matches!(variant(), Variant::Approach { .. }));
    view! {
        <details class="field">
            <summary>{words.form_more()}</summary>
            <div class="stack">
                {listed("form-jump", words.history_filter_kind(), jumps, move || {
                    // Steps and take-off are chosen beside it.
                    match variant() {
                        Variant::Approach { .. } if !matches!(first, Variant::Approach { .. }) => {
                            FIRST_APPROACH
                        }
                        Variant::Approach { .. } => first,
                        other => other,
                    }
                }, move |jump| form.update(|form| form.key.variant = jump))}
                {move || is_run_up.get().then(|| run_up(open))}
                {listed("form-hand", words.who_hand(), hands, move || form.with(|form| form.hand), move |hand| {
                    form.update(|form| form.hand = hand);
                })}
                {listed("form-ground", words.setup_surface(), grounds, move || {
                    form.with(|form| form.key.surface)
                }, move |ground| form.update(|form| form.key.surface = ground))}
                {listed("form-division", words.setup_division(), steps, move || {
                    form.with(|form| form.division)
                }, move |step| form.update(|form| form.division = step))}
                <div class="checks">
                    {check_row("form-own-way", words.form_own_way(), own_way, move |on| {
                        form.update(|form| form.key.own_way = on);
                    })}
                </div>
            </div>
        </details>
    }
    .into_tree()
}

fn run_up(open: Open) -> Tree {
    let words = open.app.w();
    let form = open.form;
    let of = move || match form.with(|form| form.key.variant) {
        Variant::Approach { steps, take_off } => (steps, take_off),
        _ => (3, TakeOff::TwoFeet),
    };
    let put = move |steps, take_off| {
        form.update(|form| form.key.variant = Variant::Approach { steps, take_off });
    };
    let number = |steps: u8| words.locale().decimal(i64::from(steps), 0);
    let steps = STEPS.map(|steps| (steps, number(steps))).collect();
    let feet = vec![
        (TakeOff::OneFoot, words.setup_one_foot()),
        (TakeOff::TwoFeet, words.setup_two_feet()),
    ];
    view! {
        {listed("form-steps", words.setup_steps(), steps, move || of().0, move |steps| {
            put(steps, of().1);
        })}
        {listed("form-feet", words.setup_take_off(), feet, move || of().1, move |take_off| {
            put(of().0, take_off);
        })}
    }
    .into_tree()
}

fn body(open: Open) -> Tree {
    let words = open.app.w();
    let unit = open.form.with_untracked(|form| form.division.unit());
    let adult = Memo::new(move |_| {
        let person = open.app.person();
        person.is_some_and(|person| open.form.with(|form| form.asks_mass(&person)))
    });
    let mass = match unit {
        Unit::Centimetre => words.form_body_mass_kg(),
        Unit::Inch => words.form_body_mass_lb(),
    };
    view! {
        <details class="field">
            <summary>{words.form_body()}</summary>
            <div class="stack">
                <p class="small soft">{words.form_body_optional()}</p>
                {open.field(
                    FormPlace::BodyHeight,
                    words.form_body_height(&words.unit_sign(unit)),
                    None,
                    ("text", "decimal"),
                    |form, _| Some(&mut form.body_height.text),
                )}
                {move || adult.get().then(|| {
                    open.field(
                        FormPlace::BodyMass,
                        mass.clone(),
                        None,
                        ("text", "decimal"),
                        |form, _| Some(&mut form.body_mass.text),
                    )
                })}
            </div>
        </details>
    }
    .into_tree()
}
