use crate::ui::prelude::*;
use two_marks::share::Route;

use crate::ui::components::{act_link, floor, page_header};
use crate::ui::state::Front;

/// An address that names no page.
pub fn page(front: Front) -> Tree {
    let words = front.w();
    view! {
        {page_header(words.lost_title(), words.back(), Route::Home.to_string())}
        <main id="main" tabindex="-1" class="pad">
            <p>{words.lost_note()}</p>
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}
