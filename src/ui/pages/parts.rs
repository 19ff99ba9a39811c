//! The parts of the program that are fetched when a page of theirs is opened.
//!
//! Home and the first step of a test are in the program's main file; all other pages stand in parts.
//! The build cuts the finished program at the functions marked below: what only one part can reach
//! goes into that part's file, what several parts share into files of their own, and the rest stays
//! in the main file. So a page is put into a part by its line in `Part::of` and in the part's own
//! function, and by nothing else.

// What `wasm_split` writes declares the far side of the cut, which the compiler cannot see.
#![allow(unsafe_code, reason = "written by wasm_split; nothing of ours")]

use crate::ui::prelude::*;

use two_marks::share::Route;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

use super::common::plain_head;
use crate::ui::components::{alert, button};
use crate::ui::state::App;

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

#[wasm_split(test, fallible)]
fn test() -> Arrival {
    Ok(|app, route| match route {
        Route::Who => super::who::page(app),
        Route::Ready => super::ready::page(app),
        Route::WarmUp => super::warm_up::page(app),
        Route::Setup => super::setup::page(app),
        Route::Reach => super::reach::page(app),
        Route::Jumps => super::jumps::page(app),
        Route::Check => super::check::page(app),
        _ => Tree::Nothing,
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
        Route::Film => super::film::page(app),
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
enum Stage {
    Away,
    Coming,
    Here(Pages),
    Failed,
}

/// The parts that have arrived.
#[derive(Clone, Copy)]
pub struct Parts {
    // One signal for each, so that no page is drawn anew when the part of another one arrives.
    stages: [RwSignal<Stage>; Part::ALL.len()],
}

impl Parts {
    /// Nothing but the main file.
    pub fn new() -> Self {
        Self { stages: Part::ALL.map(|_| RwSignal::new(Stage::Away)) }
    }

    fn stage(self, part: Part) -> Option<RwSignal<Stage>> {
        let at = Part::ALL.iter().position(|known| *known == part)?;
        self.stages.get(at).copied()
    }

    /// Whether the page of a route can be drawn.
    pub fn has(self, route: &Route) -> bool {
        let stage = Part::of(route).and_then(|part| self.stage(part));
        stage.is_none_or(|stage| matches!(stage.get(), Stage::Here(_)))
    }

    /// The page of a route, or what stands in its place until its part has arrived.
    pub fn page(self, app: App, route: &Route) -> Tree {
        let Some((part, stage)) = Part::of(route).and_then(|part| Some((part, self.stage(part)?)))
        else {
            return untrack(|| super::main_page(app, route));
        };
        match stage.get() {
            Stage::Here(pages) => untrack(|| {
                if route.step().is_some() {
                    app.show_tester();
                }
                pages(app, route)
            }),
            Stage::Away => {
                self.fetch(app, part);
                coming(app, route)
            }
            Stage::Coming => coming(app, route),
            Stage::Failed => self.failed(app, part, route),
        }
    }

    fn fetch(self, app: App, part: Part) {
        let Some(stage) = self.stage(part) else {
            return;
        };
        stage.set(Stage::Coming);
        (app.ports().spawn)(Box::pin(async move {
            let arrival = match part {
                // Whoever measures will want the result: it may not be missing afterwards.
                Part::Test => test().await.inspect(|_| self.bring(app, Part::Tests)),
                Part::Tests => tests().await,
                Part::More => more().await.inspect(|_| {
                    // A pupil opens the link in one place and jumps in another.
                    if matches!(app.route.get_untracked(), Route::Class(_)) {
                        self.bring(app, Part::Test);
                    }
                }),
            };
            stage.set(arrival.map_or(Stage::Failed, Stage::Here));
        }));
    }

    /// Fetches a part ahead of its first page.
    fn bring(self, app: App, part: Part) {
        let stage = self.stage(part);
        if stage.is_some_and(|stage| matches!(stage.get_untracked(), Stage::Away)) {
            self.fetch(app, part);
        }
    }

    fn failed(self, app: App, part: Part, route: &Route) -> Tree {
        let words = app.w();
        let again = button(words.part_again(), move || self.fetch(app, part));
        let said = alert(words.part_failed());
        stand_in(
            app,
            route,
            view! {
                {said}
                <div class="row">{again}</div>
            }
            .into_tree(),
        )
    }
}

fn coming(app: App, route: &Route) -> Tree {
    let said = view! { <p role="status" aria-busy="true">{app.w().part_coming()}</p> };
    stand_in(app, route, said.into_tree())
}

/// The head of the page and, in place of its body, what there is to say.
fn stand_in(app: App, route: &Route, said: Tree) -> Tree {
    view! {
        {plain_head(app, super::title(app, route), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack">
            {said}
        </main>
    }
    .into_tree()
}
