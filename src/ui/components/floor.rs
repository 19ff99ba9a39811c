use crate::ui::prelude::*;

use super::{Icon, icon};

/// The skirting board at the foot of every screen: the one main action, and what stands beside it.
pub fn floor(children: impl IntoTree) -> Tree {
    view! { <footer class="floor">{children}</footer> }.into_tree()
}

/// The main action: a strip of tape, named by what it does with its object.
pub fn act(label: impl Fn() -> String + Send + 'static, press: impl Fn() + 'static) -> Tree {
    view! {
        <button class="act" type="button" id="main-action" on:click=move |_| press()>
            {label}
        </button>
    }
    .into_tree()
}

/// A main action that only leads to another page.
pub fn act_link(label: String, to: String) -> Tree {
    view! {
        <a class="act" id="main-action" href=to>
            {label}
        </a>
    }
    .into_tree()
}

/// A plain button.
pub fn button(label: String, press: impl Fn() + 'static) -> Tree {
    view! {
        <button class="btn" type="button" on:click=move |_| press()>
            {label}
        </button>
    }
    .into_tree()
}

/// A button with a sign over its word.
pub fn stacked_button(sign: Icon, label: String, press: impl Fn() + 'static) -> Tree {
    view! {
        <button class="btn btn--stack" type="button" on:click=move |_| press()>
            {icon(sign)}
            {label}
        </button>
    }
    .into_tree()
}
