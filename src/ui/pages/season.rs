use crate::ui::prelude::*;

use two_marks::assess::{BandChoice, SeasonStory, Span, keys, needed, season_story};
use two_marks::chart::{Drawing, Frame};
use two_marks::history::Id;
use two_marks::measure::TrendKey;
use two_marks::season::{Picture, View, picture};
use two_marks::share::Route;
use two_marks::trend::model::Verdict;

use super::common::plain_head;
use super::{season_choose, season_more, season_plan};
use crate::ui::components::{Edge, act, drawing_box, floor, fold, verdict};
use crate::ui::state::App;

/// What a person chose to see; the whole page follows it.
#[derive(Clone, Copy)]
pub(super) struct Chosen {
    /// The kind of test; the latest one until another is chosen.
    pub(super) key: RwSignal<Option<TrendKey>>,
    pub(super) span: RwSignal<Span>,
    pub(super) view: RwSignal<Option<View>>,
    pub(super) bands: RwSignal<bool>,
    pub(super) table: RwSignal<Option<BandChoice>>,
    pub(super) reach: RwSignal<bool>,
    pub(super) touch: RwSignal<bool>,
    /// The two tests to compare; the first and the last until others are chosen.
    pub(super) pair: [RwSignal<Option<Id>>; 2],
    /// Read once for all parts of the page.
    pub(super) story: Memo<Option<SeasonStory>>,
}

impl Chosen {
    pub(super) fn new(app: App) -> Self {
        let key = RwSignal::new(None::<TrendKey>);
        let span = RwSignal::new(Span::All);
        let story = Memo::new(move |_| {
            let person = app.person()?;
            app.tests.with(|tests| {
                let kinds = keys(tests);
                let key = key.get().filter(|key| kinds.contains(key)).or(kinds.first().copied())?;
                Some(season_story(&person, tests, key, span.get()))
            })
        });
        let off = || RwSignal::new(false);
        Self {
            key,
            span,
            view: RwSignal::new(None),
            bands: off(),
            table: RwSignal::new(None),
            reach: off(),
            touch: off(),
            pair: [RwSignal::new(None), RwSignal::new(None)],
            story,
        }
    }

    /// The table behind the picture: the one chosen, or the best match at the latest age.
    pub(super) fn band_choice(self) -> Option<BandChoice> {
        let best = |story: &SeasonStory| {
            let last = story.bands.iter().rev().find_map(|age| age.standings.first());
            last.map(BandChoice::of)
        };
        self.table.get().or_else(|| self.story.with(|story| story.as_ref().and_then(best)))
    }

    fn picture(self) -> Picture {
        Picture {
            bands: if self.bands.get() { self.band_choice() } else { None },
            shows_reach: self.reach.get(),
            shows_touch: self.touch.get(),
            view: self.view.get(),
            ..Picture::default()
        }
    }
}

/// The season of the person shown: the verdict, the picture, then everything behind them.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let chosen = Chosen::new(app);
    let start = words.start_test();
    // The parts follow the story by themselves; only its coming and going lays the page anew.
    let has_story = Memo::new(move |_| chosen.story.with(Option::is_some));
    view! {
        {plain_head(app, words.season_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="season">
            {move || match has_story.get() {
                true => told(app, chosen),
                false => view! { <p class="pad">{app.w().season_empty()}</p> }.into_tree(),
            }}
        </main>
        {floor(act(move || start.clone(), move || app.begin()))}
    }
    .into_tree()
}

fn told(app: App, chosen: Chosen) -> Tree {
    let words = app.w();
    view! {
        <p class="pad season__who">{move || app.w().season_of(&name(app))}</p>
        {move || season_choose::kinds(app, chosen)}
        {move || answer(app, chosen)}
        {wall(app, chosen)}
        <p class="pad-x row season__out">
            <a class="btn" href=Route::SeasonPicture.to_string()>{words.picture_season_title()}</a>
        </p>
        {fold(words.season_plan_title(), season_plan::section(app, chosen))}
        {fold(words.season_details(), view! {
            {season_choose::moves(app, chosen)}
            {season_choose::section(app, chosen)}
            {move || facts(app, chosen)}
            {season_more::sections(app, chosen)}
            {season_more::table(app, chosen)}
        }.into_tree())}
    }
    .into_tree()
}

pub(super) fn name(app: App) -> String {
    app.person().map(|person| person.nickname).unwrap_or_default()
}

fn wall(app: App, chosen: Chosen) -> Tree {
    let sentence = Signal::derive(move || {
        let said = |story: &SeasonStory| app.w().season_description(story, &name(app), app.unit());
        chosen.story.with(|story| story.as_ref().map(said)).unwrap_or_default()
    });
    let draw = move |frame: Frame| {
        chosen.story.with(|story| {
            let words = app.w();
            let asked = chosen.picture();
            match story {
                Some(story) => picture(story, &words, app.unit(), frame, asked).drawing,
                None => Drawing { width: frame.width, height: frame.height, items: Vec::new() },
            }
        })
    };
    view! {
        <div class=move || {
            let tracks = usize::from(chosen.reach.get()) + usize::from(chosen.touch.get());
            ["season-wall", "season-wall season-wall--1", "season-wall season-wall--2"]
                .get(tracks)
                .copied()
        }>
            {drawing_box("drawing-box season-box", "season", sentence, app.resized.into(), draw)}
        </div>
    }
    .into_tree()
}

fn answer(app: App, chosen: Chosen) -> Tree {
    chosen.story.with(|story| {
        let Some(story) = story else {
            return Tree::Nothing;
        };
        let (words, unit) = (app.w(), app.unit());
        let mut said = words.season_verdict(story, unit);
        let person = app.person();
        if let (Verdict::NotToldYet, Some(person)) = (story.verdict(), &person) {
            let needed = needed(person, story, app.now().date());
            said.lines.extend(words.season_needs(needed, unit));
        }
        let is_missing = matches!(story.verdict(), Verdict::MissingAnswer(_));
        let add = person.filter(|_| is_missing).map(|person| {
            let form = Route::Person(person.id.to_string()).to_string();
            view! { <p class="pad"><a class="btn" href=form>{words.season_missing_go()}</a></p> }
        });
        view! {
            <div role="status">{verdict(edge(story.verdict()), said.head, said.lines)}</div>
            {add}
        }
        .into_tree()
    })
}

/// What the verdict rests on, for whoever wants to know.
fn facts(app: App, chosen: Chosen) -> Tree {
    chosen.story.with(|story| {
        let Some(story) = story else {
            return Tree::Nothing;
        };
        let words = app.w();
        let facts = words.season_facts(story, app.unit());
        let facts: Vec<_> = facts.into_iter().map(|fact| view! { <p>{fact}</p> }).collect();
        view! {
            <section class="pad stack season__facts">
                {facts}
                <p class="small soft">{words.season_levelled()}</p>
            </section>
        }
        .into_tree()
    })
}

/// Solid for what is shown, slanted for what is doubtful, level for what waits. A fall has no edge
/// of its own: it is no warning.
pub(super) fn edge(verdict: Verdict) -> Edge {
    match verdict {
        Verdict::Higher { clear: true } | Verdict::Lower { clear: true } => Edge::Go,
        Verdict::TooFew | Verdict::OnlyDrawn | Verdict::NotToldYet => Edge::Wait,
        Verdict::Higher { clear: false }
        | Verdict::Lower { clear: false }
        | Verdict::MayBeGrowing
        | Verdict::MissingAnswer(_) => Edge::Flag,
    }
}
