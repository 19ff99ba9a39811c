use crate::ui::prelude::*;

use super::{Icon, icon};

/// How the edge of a verdict is drawn, which is its meaning beside sign and words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// Solid, with a tick.
    Go,
    /// Slanted, with a flag.
    Flag,
    /// Level, with an hourglass.
    Wait,
    /// Level, with the stop sign.
    Stop,
}

/// A verdict: sign, one line, one sentence why.
pub fn verdict(edge: Edge, title: String, why: Vec<String>) -> Tree {
    let (class, sign) = match edge {
        Edge::Go => ("verdict", Icon::Tick),
        Edge::Flag => ("verdict verdict--flag", Icon::Flag),
        Edge::Wait => ("verdict verdict--wait", Icon::Hourglass),
        Edge::Stop => ("verdict verdict--wait", Icon::Stop),
    };
    let why: Vec<_> = why.into_iter().map(|line| view! { <p class="small">{line}</p> }).collect();
    view! {
        <section class=class>
            <div class="verdict__edge">
                <span>{icon(sign)}</span>
            </div>
            <div class="verdict__body">
                <h2>{title}</h2>
                {why}
            </div>
        </section>
    }
    .into_tree()
}
