//! Published bands behind the wall of a class, and where the teacher says whose they are.

use crate::ui::prelude::*;

use two_marks::class::{ClassBands, Row, class_bands};
use two_marks::history::{Class, Named, Pupil};
use two_marks::norms::AgeFit;
use two_marks::quantity::{AgeGroup, Compare, Sex};
use two_marks::text::Words;

use crate::ui::components::select_field;
use crate::ui::state::App;

/// The table chosen to lie behind the bricks; nothing chosen takes the first where it is about
/// everybody who jumped.
pub(super) fn chosen(class: &Class, rows: &[Row], choice: Option<&str>) -> Option<ClassBands> {
    let all = class_bands(class, rows);
    let jumped = rows.iter().filter(|row| row.best.is_some()).count();
    match choice {
        Some(choice) => all.into_iter().enumerate().find(|(at, _)| at.to_string() == choice),
        None => all.into_iter().enumerate().next().filter(|(_, one)| one.numbers.len() == jumped),
    }
    .map(|(_, bands)| bands)
}

/// The list of tables, where there is one, and what is to be known of the one chosen.
pub(super) fn choice(
    app: App,
    class: &Class,
    rows: &[Row],
    choice: RwSignal<Option<String>>,
    shown: Option<&ClassBands>,
) -> Tree {
    let words = app.w();
    let all = class_bands(class, rows);
    let title = |one: &ClassBands| words.source_title(one.listing.source, one.listing.cell);
    if all.is_empty() {
        return why_none(&words, class);
    }
    let place = shown.and_then(|shown| all.iter().position(|one| one == shown));
    let now = place.map(|place| place.to_string()).unwrap_or_default();
    let options = std::iter::once((String::new(), words.class_bands_none()));
    let options = options.chain(all.iter().enumerate().map(|(at, one)| {
        let count = words.class_bands_of(u32::try_from(one.numbers.len()).unwrap_or(0));
        (at.to_string(), words.two_things(&title(one), &count))
    }));
    let field = select_field(
        "bands",
        words.class_bands_behind(),
        options.collect(),
        Signal::derive(move || now.clone()),
        // The empty line is a choice too: no table.
        move |text| choice.set(Some(text)),
    );
    let said = shown.map(|shown| {
        let source = shown.listing.source;
        let cell = shown.listing.cell;
        let part = shown.age_fit != AgeFit::WholeGroup;
        let lines = [
            Some(title(shown)),
            part.then(|| words.class_bands_part(&words.ages(cell.ages))),
            Some(words.comparability(source.comparability)),
            (class.setup.trials > 3).then(|| words.class_bands_three()),
            Some(words.norm_growers()),
            Some(words.attribution(source)),
        ];
        let lines: Vec<_> = lines
            .into_iter()
            .flatten()
            .map(|line| view! { <li class="small">{line}</li> })
            .collect();
        view! { <ul class="dots">{lines}</ul> }
    });
    view! { <div class="pad stack">{field} {said}</div> }.into_tree()
}

/// The teacher gave an age group and tables, and none fits.
fn why_none(words: &Words, class: &Class) -> Tree {
    let asked = class.setup.age.is_some() && !matches!(class.compare, None | Some(Compare::None));
    let said = match two_marks::norms::test_kind(class.setup.key()) {
        _ if !asked => return Tree::Nothing,
        Err(why) => words.no_position(two_marks::norms::NoPosition::NotComparable(why)),
        Ok(_) => words.class_bands_no_table(),
    };
    view! { <p class="pad small">{said}</p> }.into_tree()
}

/// The group of a single number as the table tells it, where it is not the class's.
pub(super) fn note(words: &Words, class: &Class, number: u8) -> Option<String> {
    let pupil = class.pupil(number)?;
    let age = pupil.age.map(|age| words.age_group(age));
    let tables = pupil.compare.map(|compare| compare_words(words, compare));
    [age, tables].into_iter().flatten().reduce(|all, next| words.two_things(&all, &next))
}

fn compare_words(words: &Words, compare: Compare) -> String {
    match compare {
        Compare::With(Sex::Female) => words.bands_cover_female(),
        Compare::With(Sex::Male) => words.bands_cover_male(),
        Compare::Both => words.result_compare_both(),
        Compare::None => words.class_bands_none(),
    }
}

/// Where the teacher says, if she likes, whose tables and which ages: for the class and for single
/// numbers.
pub(super) fn set(app: App, class: &Class) -> Tree {
    let words = app.w();
    let id = class.id.to_string();
    let number = RwSignal::new(None::<u8>);
    let tables = |first: String| -> Vec<(String, String)> {
        let all =
            [Compare::With(Sex::Female), Compare::With(Sex::Male), Compare::Both, Compare::None];
        let rest = all.map(|one| (one.name().to_owned(), compare_words(&words, one)));
        std::iter::once((String::new(), first)).chain(rest).collect()
    };
    let ages = || -> Vec<(String, String)> {
        let all = [AgeGroup::Under12, AgeGroup::From12To14, AgeGroup::From15To17, AgeGroup::Adult];
        let rest = all.map(|one| (one.name().to_owned(), words.age_group(one)));
        std::iter::once((String::new(), words.class_bands_as_class())).chain(rest).collect()
    };
    let stored = {
        let id = id.clone();
        move || app.class(&id)
    };
    let now = {
        let stored = stored.clone();
        move |read: fn(&Class, u8) -> &'static str| {
            let stored = stored.clone();
            Signal::derive(move || {
                let class = stored();
                class
                    .map(|class| read(&class, number.get().unwrap_or(0)))
                    .unwrap_or_default()
                    .to_owned()
            })
        }
    };
    let change = move |work: &dyn Fn(&mut Class)| {
        if let Some(class) = untrack(&stored) {
            app.change_class(&class, |class| work(class));
        }
    };
    let pupil = {
        let change = change.clone();
        move |work: &dyn Fn(&mut Pupil)| {
            if let Some(number) = number.get_untracked() {
                change(&|class| class.change_pupil(number, work));
            }
        }
    };
    let of_pupil = pupil.clone();
    let numbers = class.numbers().into_iter();
    let numbers = numbers.map(|one| (one.to_string(), words.class_number(&one.to_string())));
    let numbers = std::iter::once((String::new(), words.class_bands_nobody())).chain(numbers);
    let chosen =
        Signal::derive(move || number.get().map(|one| one.to_string()).unwrap_or_default());
    let own_age = now(|class, number| {
        class.pupil(number).and_then(|one| one.age).map(Named::name).unwrap_or_default()
    });
    let own_tables = now(|class, number| {
        class.pupil(number).and_then(|one| one.compare).map(Named::name).unwrap_or_default()
    });
    let of_class = now(|class, _| class.compare.map(Named::name).unwrap_or_default());
    let not_given = words.class_age_none();
    let as_class = words.class_bands_as_class();
    view! {
        <details class="pad">
            <summary>{words.class_bands()}</summary>
            <div class="stack">
                <p class="small">{words.class_bands_note()}</p>
                {select_field("compare", words.class_bands_class(), tables(not_given), of_class, move |text| {
                    change(&|class| class.compare = Compare::named(&text));
                })}
                {select_field("pupil", words.class_bands_one(), numbers.collect(), chosen, move |text| {
                    number.set(text.parse().ok());
                })}
                <div class="stack" hidden=move || number.get().is_none()>
                    {select_field("pupil-age", words.who_age_group(), ages(), own_age, move |text| {
                        pupil(&|one| one.age = AgeGroup::named(&text));
                    })}
                    {select_field("pupil-compare", words.class_bands_tables(), tables(as_class), own_tables, move |text| {
                        of_pupil(&|one| one.compare = Compare::named(&text));
                    })}
                </div>
            </div>
        </details>
    }
    .into_tree()
}
