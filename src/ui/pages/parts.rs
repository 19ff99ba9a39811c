//! The parts of the program that are fetched when a page of theirs is opened.
//!
//! The main file holds the wall of who comes for the first time. All other pages stand in parts, and
//! so does all that reads and writes records (`kept`): it comes with the first page that needs it,
//! and before the first page where something is stored.
//! The build cuts the finished program at the functions marked below: what only one part can reach
//! goes into that part's file, what several parts share into files of their own, and the rest stays
//! in the main file. So a page is put into a part by its line in `Part::of` and in the part's own
//! function, and by nothing else.

// What `wasm_split` writes declares the far side of the cut, which the compiler cannot see.
#![allow(unsafe_code, reason = "written by wasm_split; nothing of ours")]

use std::any::Any;

use crate::ui::prelude::*;

use two_marks::share::Route;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

use crate::ui::components::{alert, button, page_header};
use crate::ui::state::{App, Front, Later};

/// Draws the page of a route of its part.
type Pages = fn(App, &Route) -> Tree;

type Arrival = Result<Pages, SplitLoaderError>;

/// What is fetched together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// The steps of a test at the wall.
    Test,
    /// Saved tests: one, all, and the season.
    Tests,
    /// What is read, printed, set or done by a whole class.
    More,
}

impl Part {
    const ALL: [Self; 3] = [Self::Test, Self::Tests, Self::More];

    /// The part of a route; none for what the main file holds.
    fn of(route: &Route) -> Option<Self> {
        Some(match route {
            Route::Home | Route::Lost => return None,
            Route::Who
            | Route::AddPerson
            | Route::Person(_)
            | Route::Ready
            | Route::WarmUp
            | Route::Setup
            | Route::Reach
            | Route::Jumps
            | Route::Check => Self::Test,
            Route::Result(_)
            | Route::History
            | Route::Season
            | Route::SeasonPicture
            | Route::Change(_)
            | Route::Add
            | Route::Picture(_) => Self::Tests,
            _ => Self::More,
        })
    }
}

/// What the page does with records at hand: the far side of the calls that the main file makes.
#[derive(Clone, Copy)]
struct Kept {
    home: fn(App) -> Tree,
    example_banner: fn(App) -> Tree,
    told_everywhere: fn(App) -> Tree,
    allowed: fn(App, &Route) -> Route,
    is_testing: fn(App) -> bool,
    count_seconds: fn(App) -> Box<dyn Any>,
    leave_page: fn(App),
    hide_page: fn(App),
    reload: fn(App),
}

#[wasm_split(kept, fallible)]
fn kept() -> Result<Kept, SplitLoaderError> {
    Ok(Kept {
        home: super::home::page,
        example_banner: super::example::banner,
        told_everywhere: super::told_everywhere,
        allowed: App::allowed,
        is_testing: |app| app.progress.with(Option::is_some),
        count_seconds: App::count_seconds,
        leave_page: App::leave_page,
        hide_page: App::keep_draft_for_long,
        reload: App::reload,
    })
}

#[wasm_split(test, fallible)]
fn test() -> Arrival {
    Ok(|app, route| {
        if route.step().is_some() {
            app.show_tester();
        }
        match route {
            Route::Who => super::who::page(app),
            Route::AddPerson => super::person::add(app),
            Route::Person(id) => super::person::change(app, id),
            Route::Ready => super::ready::page(app),
            Route::WarmUp => super::warm_up::page(app),
            Route::Setup => super::setup::page(app),
            Route::Reach => super::reach::page(app),
            Route::Jumps => super::jumps::page(app),
            Route::Check => super::check::page(app),
            _ => Tree::Nothing,
        }
    })
}

#[wasm_split(tests, fallible)]
fn tests() -> Arrival {
    Ok(|app, route| match route {
        Route::Result(id) => super::result::page(app, id.clone()),
        Route::History => super::history::page(app),
        Route::Season => super::season::page(app),
        Route::SeasonPicture => super::season_picture::page(app),
        Route::Picture(id) => super::picture::page(app, id.clone()),
        Route::Change(id) => super::change::page(app, id),
        Route::Add => super::add::page(app),
        _ => Tree::Nothing,
    })
}

#[wasm_split(more, fallible)]
fn more() -> Arrival {
    Ok(|app, route| match route {
        Route::Clock => super::clock::page(app),
        Route::Film => {
            app.show_tester();
            super::film::page(app)
        }
        Route::Rulers => super::rulers::page(app),
        Route::Class(page) => super::class::page(app, page),
        Route::HandOn(id) => super::hand_on::page(app, id.clone()),
        Route::Card(code) => super::card::page(app, code),
        Route::Data => super::data::page(app),
        Route::Glossary => super::glossary::page(app),
        Route::Bands => super::bands::page(app),
        Route::Sure => super::sure::page(app),
        Route::Paper => super::paper::page(app),
        Route::Strip => super::strip::page(app),
        Route::Technique => super::technique::page(app),
        Route::Example => super::example::page(app),
        Route::About => super::about::page(app),
        Route::Touch => super::touch::page(app),
        Route::Power => super::power::page(app),
        Route::Growth => super::growth::page(app),
        Route::Athletes => super::athletes::page(app),
        _ => Tree::Nothing,
    })
}

/// How far the fetching of a part has come.
#[derive(Clone, Copy)]
enum Stage<T> {
    Away,
    Coming,
    Here(T),
    Failed,
}

/// Brings the part of the records and opens them; nothing when it did not arrive.
type Open = fn(Front) -> Later<Option<App>>;

/// The parts that have arrived.
#[derive(Clone, Copy)]
pub struct Parts {
    front: Front,
    open: Open,
    /// Something is stored, so that no page is true without it.
    holds: bool,
    records: RwSignal<Stage<(App, Kept)>>,
    // One signal for each, so that no page is drawn anew when the part of another one arrives.
    stages: [RwSignal<Stage<Pages>>; Part::ALL.len()],
}

impl Parts {
    /// Nothing but the main file.
    pub fn new(front: Front, open: Open, holds: bool) -> Self {
        let records = RwSignal::new(Stage::Away);
        let stages = Part::ALL.map(|_| RwSignal::new(Stage::Away));
        Self { front, open, holds, records, stages }
    }

    fn stage(self, part: Part) -> Option<RwSignal<Stage<Pages>>> {
        let at = Part::ALL.iter().position(|known| *known == part)?;
        self.stages.get(at).copied()
    }

    /// Whether the page of a route can be drawn.
    pub fn has(self, route: &Route) -> bool {
        let part = Part::of(route);
        let needs_records = self.holds || part.is_some();
        let stage = part.and_then(|part| self.stage(part));
        (!needs_records || self.kept().is_some())
            && stage.is_none_or(|stage| matches!(stage.get(), Stage::Here(_)))
    }

    /// The page of a route, or what stands in its place until its part has arrived.
    pub fn page(self, route: &Route) -> Tree {
        let part = Part::of(route);
        let records = self.records.get();
        let pages = part.and_then(|part| self.stage(part)).map(|stage| stage.get());
        match (records, pages) {
            (Stage::Here((app, _)), Some(Stage::Here(pages))) => untrack(|| pages(app, route)),
            (Stage::Here((app, kept)), None) if *route == Route::Home => {
                untrack(|| (kept.home)(app))
            }
            (_, None) if *route != Route::Home => untrack(|| super::first_page(self.front, route)),
            // Nothing is stored that would be missing from it.
            (_, None) if !self.holds => untrack(|| super::first_page(self.front, route)),
            (Stage::Failed, _) | (_, Some(Stage::Failed)) => self.failed(route),
            (_, pages) => {
                if matches!(records, Stage::Away) {
                    self.fetch_records();
                }
                if let (Some(part), Some(Stage::Away)) = (part, pages) {
                    self.fetch(part);
                }
                self.coming(route)
            }
        }
    }

    /// Brings and opens the records, unless they are here or on their way.
    pub fn bring_records(self) -> Later<()> {
        if !matches!(self.records.get_untracked(), Stage::Away | Stage::Failed) {
            return Box::pin(async {});
        }
        self.records.set(Stage::Coming);
        Box::pin(async move {
            let code = kept().await;
            let opened = match code {
                Ok(kept) => (self.open)(self.front).await.map(|app| (app, kept)),
                Err(_) => None,
            };
            self.records.set(opened.map_or(Stage::Failed, Stage::Here));
        })
    }

    fn fetch_records(self) {
        (self.front.near.spawn)(self.bring_records());
    }

    /// Fetches the code of a part, unless it is here or on its way.
    fn fetch(self, part: Part) {
        let Some(stage) = self.stage(part) else {
            return;
        };
        if !matches!(stage.get_untracked(), Stage::Away | Stage::Failed) {
            return;
        }
        stage.set(Stage::Coming);
        (self.front.near.spawn)(Box::pin(async move {
            let arrival = match part {
                // Whoever measures will want the result: it may not be missing afterwards.
                Part::Test => test().await.inspect(|_| self.fetch(Part::Tests)),
                Part::Tests => tests().await,
                Part::More => more().await.inspect(|_| {
                    // A pupil opens the link in one place and jumps in another.
                    if matches!(self.front.route.get_untracked(), Route::Class(_)) {
                        self.fetch(Part::Test);
                    }
                }),
            };
            stage.set(arrival.map_or(Stage::Failed, Stage::Here));
        }));
    }

    fn failed(self, route: &Route) -> Tree {
        let words = self.front.w();
        let part = Part::of(route);
        let again = button(words.part_again(), move || {
            self.fetch_records();
            if let Some(part) = part {
                self.fetch(part);
            }
        });
        let said = alert(words.part_failed());
        self.stand_in(
            route,
            view! {
                {said}
                <div class="row">{again}</div>
            }
            .into_tree(),
        )
    }

    fn coming(self, route: &Route) -> Tree {
        let words = self.front.w();
        let said = view! { <p role="status" aria-busy="true">{words.part_coming()}</p> };
        self.stand_in(route, said.into_tree())
    }

    /// The head of the page and, in place of its body, what there is to say.
    fn stand_in(self, route: &Route, said: Tree) -> Tree {
        let words = self.front.w();
        let home = Route::Home.to_string();
        view! {
            {page_header(super::title(&words, route), words.back(), home)}
            <main id="main" tabindex="-1" class="pad stack">
                {said}
            </main>
        }
        .into_tree()
    }

    fn kept(self) -> Option<(App, Kept)> {
        match self.records.get() {
            Stage::Here(here) => Some(here),
            Stage::Away | Stage::Coming | Stage::Failed => None,
        }
    }

    /// The page that an address may show now. Without records no test is under way.
    pub fn allowed(self, route: &Route) -> Route {
        untrack(|| match self.kept() {
            Some((app, kept)) => (kept.allowed)(app, route),
            None if route.step().is_some() && !self.holds => Route::Home,
            None => route.clone(),
        })
    }

    /// What says on every page that the invented family is shown.
    pub fn example_banner(self) -> Tree {
        self.kept().map_or(Tree::Nothing, |(app, kept)| (kept.example_banner)(app))
    }

    /// What the store refused, on whichever page it was asked.
    pub fn told_everywhere(self) -> Tree {
        self.kept().map_or(Tree::Nothing, |(app, kept)| (kept.told_everywhere)(app))
    }

    /// Whether a test is under way.
    pub fn is_testing(self) -> bool {
        self.kept().is_some_and(|(app, kept)| (kept.is_testing)(app))
    }

    /// Counts seconds and keeps the screen on, for as long as what it returns is held.
    pub fn count_seconds(self) -> Option<Box<dyn Any>> {
        self.kept().map(|(app, kept)| (kept.count_seconds)(app))
    }

    /// The person goes to another page.
    pub fn leave_page(self) {
        if let Some((app, kept)) = untrack(|| self.kept()) {
            (kept.leave_page)(app);
        }
    }

    /// The page goes out of sight.
    pub fn hide_page(self) {
        if let Some((app, kept)) = untrack(|| self.kept()) {
            (kept.hide_page)(app);
        }
    }

    /// Another tab has written.
    pub fn reload(self) {
        match untrack(|| self.kept()) {
            Some((app, kept)) => (kept.reload)(app),
            None => self.fetch_records(),
        }
    }
}
