use leptos::prelude::*;
use two_marks::share::Route;

use super::common::plain_head;
use crate::ui::state::App;

/// Replaced soon.
pub fn page(app: App) -> AnyView {
    let words = app.w();
    view! {
        {plain_head(app, words.home_about(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad"></main>
    }
    .into_any()
}
