use crate::ui::prelude::*;

use two_marks::text::{Language, languages};

use crate::ui::components::{Icon, notice};
use crate::ui::state::{App, Front};

/// The list of languages under its own heading.
pub fn section(app: App) -> Tree {
    view! {
        <section class="stack">
            <h2>{app.w().language_label()}</h2>
            {list(app.front)}
        </section>
    }
    .into_tree()
}

/// The same behind one line, which says the language of the page.
pub fn chooser(front: Front) -> Tree {
    let words = front.w();
    let tag = front.language.get();
    let name = languages().iter().find(|language| language.tag == tag).map(|found| found.name);
    view! {
        <details class="tongues">
            <summary>
                <span class="hidden-words">{words.language_label()}</span>
                <span>{name.unwrap_or_default()}</span>
            </summary>
            {list(front)}
        </details>
    }
    .into_tree()
}

/// Each language by its own name. That nobody who grew up with it has checked it stands under it.
fn list(front: Front) -> Tree {
    let rows: Vec<_> = languages()
        .iter()
        .map(|language| {
            let chosen = front.language.get() == language.tag;
            let note = (!language.note.is_empty())
                .then(|| view! { <span class="small">{language.note.to_owned()}</span> });
            view! {
                <li>
                    <button
                        type="button"
                        class="btn tongue"
                        lang=language.tag
                        aria-pressed=if chosen { "true" } else { "false" }
                        on:click=move |_| front.choose_language(language)
                    >
                        <span>{language.name.to_owned()}</span>
                        {note}
                    </button>
                </li>
            }
        })
        .collect();
    view! { <ul class="tongue-list">{rows}</ul> }.into_tree()
}

/// A language was wanted whose words did not arrive.
pub fn missing(front: Front) -> Tree {
    match front.language_missing.get() {
        Some(Language { name, .. }) => notice(Icon::Info, front.w().language_missing(name)),
        None => Tree::Nothing,
    }
}
