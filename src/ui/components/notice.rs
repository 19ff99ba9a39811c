use crate::ui::prelude::*;

use super::{Icon, icon};

/// A sign and one or two sentences; stays until read.
pub fn notice(sign: Icon, words: impl IntoTree) -> Tree {
    view! {
        <section class="notice" role="status">
            {icon(sign)}
            <div class="stack">{words}</div>
        </section>
    }
    .into_tree()
}

/// The same for trouble that must be heard at once.
pub fn alert(words: impl IntoTree) -> Tree {
    view! {
        <section class="notice notice--alert" role="alert">
            {icon(Icon::Info)}
            <div class="stack">{words}</div>
        </section>
    }
    .into_tree()
}

/// One thing to mend: the field's id and its sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// The field's element id.
    pub field: String,
    /// What is wrong with it.
    pub sentence: String,
}

/// All that is wrong with a page, with a way to each field. The ways move the focus, by `go`, and
/// leave the address alone.
pub fn error_summary(title: String, fixes: Vec<Fix>, go: impl Fn(&str) + Clone + 'static) -> Tree {
    let rows = fixes.into_iter().map(|fix| {
        let (field, go) = (fix.field, go.clone());
        view! {
            <li>
                <button type="button" class="link" on:click=move |_| go(&field)>
                    {fix.sentence}
                </button>
            </li>
        }
    });
    let rows: Vec<_> = rows.collect();
    view! {
        <section class="errors" role="alert" tabindex="-1" id="errors">
            <h2>{title}</h2>
            <ul class="stack">{rows}</ul>
        </section>
    }
    .into_tree()
}

/// The sentence beside one field, with its one-tap mends.
pub fn field_problem(id: String, sentence: String, mends: Vec<Tree>) -> Tree {
    view! {
        <div class="problem" id=id role="alert">
            {icon(Icon::Info)}
            <div class="stack">
                <p>{sentence}</p>
                <div class="row">{mends}</div>
            </div>
        </div>
    }
    .into_tree()
}
