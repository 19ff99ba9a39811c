use leptos::prelude::*;

use super::{Icon, icon};

/// The skirting board at the foot of every screen: the one main action, and what stands beside it.
pub fn floor(children: impl IntoView) -> AnyView {
    view! { <footer class="floor">{children}</footer> }.into_any()
}

/// The main action: a strip of tape, named by what it does with its object.
pub fn act(label: impl Fn() -> String + Send + 'static, press: impl Fn() + 'static) -> AnyView {
    view! {
        <button class="act" type="button" id="main-action" on:click=move |_| press()>
            {label}
        </button>
    }
    .into_any()
}

/// A main action that only leads to another page.
pub fn act_link(label: String, to: String) -> AnyView {
    view! {
        <a class="act" id="main-action" href=to>
            {label}
        </a>
    }
    .into_any()
}

/// A plain button.
pub fn button(label: String, press: impl Fn() + 'static) -> AnyView {
    view! {
        <button class="btn" type="button" on:click=move |_| press()>
            {label}
        </button>
    }
    .into_any()
}

/// A button with a sign over its word.
pub fn stacked_button(sign: Icon, label: String, press: impl Fn() + 'static) -> AnyView {
    view! {
        <button class="btn btn--stack" type="button" on:click=move |_| press()>
            {icon(sign)}
            {label}
        </button>
    }
    .into_any()
}
