use crate::ui::prelude::*;
use two_marks::share::Route;

use super::common::plain_head;
use crate::ui::components::{act_link, floor};
use crate::ui::state::App;

/// An address that names no page.
pub fn page(app: App) -> Tree {
    let words = app.w();
    view! {
        {plain_head(app, words.lost_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad">
            <p>{words.lost_note()}</p>
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}
