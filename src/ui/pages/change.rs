use crate::ui::prelude::*;

use two_marks::share::Route;

use super::common::plain_head;
use super::test_form::{Shown, form};
use crate::ui::components::{act_link, floor};
use crate::ui::state::App;

/// A saved test, open for a change.
pub fn page(app: App, id: &str) -> Tree {
    let words = app.w();
    let Some(test) = app.test(id) else {
        return view! {
            {plain_head(app, words.form_change_title(), &Route::History)}
            <main id="main" tabindex="-1" class="pad">
                <p>{words.form_lost()}</p>
            </main>
            {floor(act_link(words.go_home(), Route::Home.to_string()))}
        }
        .into_tree();
    };
    app.show_owner(&test);
    form(
        app,
        app.form_of(&test),
        Shown {
            title: words.form_change_title(),
            note: None,
            save: words.form_save(),
            back_to: Route::Result(id.to_owned()),
        },
    )
}
