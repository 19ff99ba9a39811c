use crate::ui::prelude::*;

/// A length of tape winding in: `left` of `total`, one tick a second, with the seconds in words.
/// The tape is hidden from readers; what they hear comes from the page, at 30, 10 and 0 s.
pub fn timer(words: Signal<String>, left: Signal<u32>, total: u32) -> Tree {
    // One tick a second, or one in ten where the tape is long: their share grows as it winds in.
    let seconds = if total > 60 { 10 } else { 1 };
    let width = move || format!("{}%", left.get() * 100 / total.max(1));
    let ticks = move || (left.get() / seconds).max(1).to_string();
    view! {
        <div class="timer">
            <span>{move || words.get()}</span>
            <span class="timer__tape" style:--n=ticks aria-hidden="true">
                <i style:--left=width></i>
            </span>
        </div>
    }
    .into_tree()
}
