use crate::ui::prelude::*;

use two_marks::history::{Choices, Filter, Group, Method, ROWS_MAX, Test, list};
use two_marks::measure::{Surface, Variant};
use two_marks::share::Route;
use two_marks::text::{DateForm, Words};

use super::common::plain_head;
use crate::ui::components::{Icon, act, button, data_table, floor, notice, select_field};
use crate::ui::state::{App, Notice};

/// All tests of a person, newest first, one list per kind of test.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let start = words.start_test();
    let view = View { app, filter: RwSignal::new(Filter::default()), from: RwSignal::new(0) };
    let name = app.person().map(|person| person.nickname).unwrap_or_default();
    view! {
        {plain_head(app, words.history_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack-wide">
            {move || deleted(app)}
            <p class="lead">{name}</p>
            <div class="row">
                <a class="btn" href=Route::Add.to_string()>
                    {words.history_add()}
                </a>
                <a class="btn" href=Route::Season.to_string()>
                    {words.season_title()}
                </a>
            </div>
            {move || filters(view)}
            {move || lists(view)}
        </main>
        {floor(act(move || start.clone(), move || app.begin()))}
    }
    .into_tree()
}

fn deleted(app: App) -> Tree {
    if !matches!(app.notice.get(), Some(Notice::Deleted | Notice::DeletedUnsure)) {
        return Tree::Nothing;
    }
    let Some(test) = app.deleted.get() else {
        return Tree::Nothing;
    };
    let words = app.w();
    let date = words.date(test.date, DateForm::DayAndMonth);
    notice(
        Icon::Undo,
        view! {
            <p>{words.history_deleted(&date)}</p>
            {button(words.undo(), move || app.bring_back(&test))}
        },
    )
}

/// What the list is narrowed to, and where it begins.
#[derive(Clone, Copy)]
struct View {
    app: App,
    filter: RwSignal<Filter>,
    from: RwSignal<usize>,
}

impl View {
    fn narrow(self, change: impl FnOnce(&mut Filter)) {
        self.from.set(0);
        self.filter.update(change);
    }
}

/// One list of choices; nothing where there are fewer than make a choice: one tag alone does, since
/// not every test has it.
fn filter<T: Clone + PartialEq + Send + Sync + 'static>(
    view: View,
    (id, label): (&'static str, String),
    (least, choices): (usize, Vec<(T, String)>),
    of: fn(&mut Filter) -> &mut Option<T>,
) -> Tree {
    let chosen = move || of(&mut view.filter.get()).clone();
    if choices.len() < least {
        return Tree::Nothing;
    }
    let mut options = vec![(String::new(), view.app.w().history_filter_all())];
    let values: Vec<T> = choices.iter().map(|(value, _)| value.clone()).collect();
    let labels = choices.into_iter().enumerate();
    options.extend(labels.map(|(at, (_, label))| (at.to_string(), label)));
    let known = values.clone();
    let value = Signal::derive(move || {
        let chosen = chosen();
        let at = known.iter().position(|value| Some(value) == chosen.as_ref());
        at.map(|at| at.to_string()).unwrap_or_default()
    });
    select_field(id, label, options, value, move |at| {
        let value = at.parse().ok().and_then(|at: usize| values.get(at).cloned());
        view.narrow(|filter| *of(filter) = value);
    })
}

fn filters(view: View) -> Tree {
    let app = view.app;
    let words = app.w();
    let choices = app.tests.with(|tests| Choices::of(tests));
    let variants = choices.variants.into_iter().map(|jump| (jump, words.jump(jump)));
    let methods =
        choices.methods.into_iter().map(|method| (method, words.way_of_measuring(method)));
    let grounds = choices.surfaces.into_iter().map(|ground| (ground, words.surface(ground)));
    let tags = choices.tags.into_iter().map(|tag| (tag.clone(), tag));
    let mut tired = vec![(true, words.history_tired()), (false, words.history_filter_rested())];
    if !choices.has_both_tired {
        tired.clear();
    }
    let lists = [
        filter::<Variant>(
            view,
            ("filter-kind", words.history_filter_kind()),
            (2, variants.collect()),
            |filter| &mut filter.variant,
        ),
        filter::<Method>(
            view,
            ("filter-method", words.history_filter_method()),
            (2, methods.collect()),
            |filter| &mut filter.method,
        ),
        filter::<Surface>(
            view,
            ("filter-ground", words.history_filter_ground()),
            (2, grounds.collect()),
            |filter| &mut filter.surface,
        ),
        filter::<bool>(
            view,
            ("filter-tired", words.history_filter_tired()),
            (2, tired),
            |filter| &mut filter.tired,
        ),
        filter::<String>(
            view,
            ("filter-tag", words.history_filter_tag()),
            (1, tags.collect()),
            |filter| &mut filter.tag,
        ),
    ];
    view! {
        <details class="field">
            <summary>{words.history_filter()}</summary>
            <div class="stack">{lists.into_iter().collect::<Vec<_>>()}</div>
        </details>
    }
    .into_tree()
}

fn lists(view: View) -> Tree {
    let app = view.app;
    let words = app.w();
    if app.tests.with(Vec::is_empty) {
        return view! { <p>{words.history_empty()}</p> }.into_tree();
    }
    let filter = view.filter.get();
    let listing = app.tests.with(|tests| list(tests, &filter, view.from.get()));
    if listing.total == 0 {
        return view! {
            <p>{words.history_none_fit()}</p>
            {button(words.history_show_all(), move || view.narrow(|filter| *filter = Filter::default()))}
        }
        .into_tree();
    }
    let groups: Vec<_> = listing.groups.iter().map(|group| rows(app, &words, group)).collect();
    let whole = |number: usize| words.locale().decimal(i64::try_from(number).unwrap_or(0), 0);
    let (from, to) = (listing.from, listing.from + listing.shown);
    let window = (listing.total > ROWS_MAX).then(|| {
        let newer = (from > 0).then(|| {
            let back = from.saturating_sub(ROWS_MAX);
            button(words.history_show_newer(), move || view.from.set(back))
        });
        let older = (to < listing.total)
            .then(|| button(words.history_show_older(), move || view.from.set(to)));
        view! {
            <p role="status">
                {words.history_window(&whole(from + 1), &whole(to), &whole(listing.total))}
            </p>
            <div class="row">{newer} {older}</div>
        }
    });
    view! {
        {groups}
        {window}
    }
    .into_tree()
}

fn rows(app: App, words: &Words, group: &Group) -> Tree {
    let key = group.key;
    let tests: Vec<Test> = app
        .tests
        .with(|tests| group.rows.iter().filter_map(|row| tests.get(row.at).cloned()).collect());
    // Too few frames a second: shown with its band, and in no line.
    let in_line: Vec<Test> =
        tests.iter().filter(|test| !test.session.is_too_coarse_for_trend()).cloned().collect();
    let rows: Vec<_> = tests
        .iter()
        .zip(&group.rows)
        .map(|(test, row)| {
            let unit = test.session.division.unit();
            let said = |height: Option<two_marks::quantity::JumpHeight>| {
                height.map(|height| words.length(height.0, unit)).unwrap_or_default()
            };
            let height = said(test.session.best());
            let usual = said(test.session.usual().map(|usual| usual.height));
            let date = words.date(test.date, DateForm::Full);
            let mut notes = Vec::new();
            if row.is_last {
                notes.push(words.history_last());
            }
            if row.is_best {
                notes.push(words.history_best());
            }
            if test.tired.is_noted() {
                notes.push(words.history_tired());
            }
            if test.session.is_rough() {
                notes.push(words.history_rough());
            }
            if test.practice {
                notes.push(words.history_practice());
            }
            let notes = notes
                .into_iter()
                .reduce(|all, next| words.two_things(&all, &next))
                .unwrap_or_default();
            let open = words.history_open(&date, &height);
            view! {
                <tr>
                    <td>
                        <a href=Route::Result(test.id.to_string()).to_string() aria-label=open>
                            {date}
                        </a>
                    </td>
                    <td class="num">{height}</td>
                    <td class="num">{usual}</td>
                    <td>{notes}</td>
                </tr>
            }
        })
        .collect();
    let heads = vec![
        (words.history_date(), false),
        (words.history_height(), true),
        (words.history_usual(), true),
        (words.history_notes(), false),
    ];
    view! {
        <section class="stack">
            {super::history_line::drawing(app, &in_line)}
            {data_table(words.test_kind(key), heads, rows, None)}
        </section>
    }
    .into_tree()
}
