use crate::ui::prelude::*;

/// Signs of two pixels' line, drawn by us.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Icon {
    /// Go back.
    Back,
    /// Good, done.
    Tick,
    /// Noted as tired.
    Flag,
    /// Wait.
    Hourglass,
    /// Stop.
    Stop,
    /// To know.
    Info,
    /// Higher, one more.
    Up,
    /// A foul.
    Cross,
    /// Take back.
    Undo,
    /// Add.
    Plus,
}

/// A sign of 22 pixels; hidden from readers, since words stand beside it.
pub fn icon(icon: Icon) -> Tree {
    let path = match icon {
        Icon::Back => "M14 3 6 11l8 8",
        Icon::Tick => "m3 12 5 6L20 3",
        Icon::Flag => "M4 21V2h14l-4 5 4 5H4",
        Icon::Hourglass => "M4 2h14M4 20h14M6 2c0 6 5 6 5 9s-5 3-5 9M16 2c0 6-5 6-5 9s5 3 5 9",
        Icon::Stop => "M7 2h8l5 5v8l-5 5H7l-5-5V7zM6 11h10",
        Icon::Info => "M11 2a9 9 0 1 0 0 18 9 9 0 0 0 0-18M11 10v6M11 5.5V8",
        Icon::Up => "M11 20V3M4 10l7-7 7 7",
        Icon::Cross => "m4 4 14 14M18 4 4 18",
        Icon::Undo => "M8 3 3 8l5 5M3 8h10a5.5 5.5 0 0 1 0 11H8",
        Icon::Plus => "M11 3v16M3 11h16",
    };
    view! {
        <svg class="icon" width="22" height="22" viewBox="0 0 22 22" aria-hidden="true">
            <path d=path fill="none" stroke="currentColor" stroke-width="3" />
        </svg>
    }
    .into_tree()
}
