use crate::ui::prelude::*;

/// A part of a page behind its title. Folded it is out of sight and out of reach on the screen; on paper
/// it is there, which a `details` element of the browser would not be.
pub fn fold(title: String, inside: Tree) -> Tree {
    let is_open = RwSignal::new(false);
    view! {
        <section class="fold">
            <h2>
                <button
                    type="button"
                    class="fold__key"
                    aria-expanded=move || if is_open.get() { "true" } else { "false" }
                    on:click=move |_| is_open.update(|is_open| *is_open = !*is_open)
                >
                    {title}
                </button>
            </h2>
            <div class=move || if is_open.get() { "fold__inside" } else { "fold__inside fold__inside--shut" }>
                {inside}
            </div>
        </section>
    }
    .into_tree()
}
