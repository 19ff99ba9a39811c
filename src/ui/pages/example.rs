use crate::ui::prelude::*;

use two_marks::share::Route;

use super::common::plain_head;
use crate::ui::components::{Icon, act, button, floor, icon};
use crate::ui::state::{App, Front};

/// What the example is, and the way into it or out of it.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let label = move || {
        let words = app.w();
        if app.example.get() { words.example_end() } else { words.example_show() }
    };
    let go = move || {
        if app.example.get_untracked() { app.end_example() } else { app.begin_example() }
    };
    view! {
        {plain_head(app, words.example_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack">
            <p class="lead">{words.example_what()}</p>
            <ul class="dots">
                <li>{words.example_younger_story(&words.example_younger())}</li>
                <li>{words.example_older_story(&words.example_older())}</li>
            </ul>
            <p>{words.example_apart()}</p>
        </main>
        {floor(act(label, go))}
    }
    .into_tree()
}

/// On every page while the invented family is shown, on paper too.
pub fn banner(app: App) -> Tree {
    if !app.example.get() {
        return Tree::Nothing;
    }
    let words = app.w();
    view! {
        <section class="notice example-banner" aria-label=words.example_title()>
            {icon(Icon::Info)}
            <div class="stack">
                <p>
                    <strong>{words.example_banner()}</strong>
                </p>
                {button(words.example_end(), move || app.end_example())}
            </div>
        </section>
    }
    .into_tree()
}

/// A small way in, for who has no tests yet.
pub fn way_in(front: Front) -> Tree {
    let href = Route::Example.to_string();
    view! { <p><a class="link" href=href>{front.w().example_show()}</a></p> }.into_tree()
}
