use crate::ui::prelude::*;

use two_marks::flow::TestForm;
use two_marks::share::Route;

use super::common::plain_head;
use super::test_form::{Shown, form};
use crate::ui::components::{act_link, floor};
use crate::ui::state::App;

/// An earlier result, added by hand.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let Some(person) = app.person() else {
        return view! {
            {plain_head(app, words.form_add_title(), &Route::History)}
            <main id="main" tabindex="-1" class="pad">
                <p>{words.form_add_nobody()}</p>
            </main>
            {floor(act_link(words.who_add(), Route::AddPerson.to_string()))}
        }
        .into_tree();
    };
    let new = TestForm::add(&person, app.now().date());
    form(
        app,
        new,
        Shown {
            title: words.form_add_title(),
            note: Some(words.form_add_note()),
            save: words.form_add(),
            back_to: Route::History,
        },
    )
}
