//! What the words of the trade mean.

use crate::ui::prelude::*;

use two_marks::share::Route;

use super::common::plain_head;
use crate::ui::components::{act_link, floor};
use crate::ui::state::App;

/// Every word of the trade, one line each.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let rows: Vec<_> = words
        .glossary()
        .into_iter()
        .map(|(word, meaning)| {
            view! {
                <div>
                    <dt>{word}</dt>
                    <dd>{meaning}</dd>
                </div>
            }
        })
        .collect();
    view! {
        {plain_head(app, words.words_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack-wide info">
            <p>{words.words_intro()}</p>
            <dl class="facts">{rows}</dl>
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}
