use crate::ui::prelude::*;

use two_marks::chart::QrDrawing;

/// A QR code, black on white in every look; `label` says what it holds. The whole drawing is one path.
pub fn qr_panel(class: &'static str, drawing: Option<QrDrawing>, label: String) -> Tree {
    let Some(QrDrawing { side, path }) = drawing else {
        return Tree::Nothing;
    };
    view! {
        <div class=class role="img" aria-label=label>
            <svg viewBox=format!("0 0 {side} {side}") aria-hidden="true" shape-rendering="crispEdges">
                <path class="qr__ground" d=format!("M0 0h{side}v{side}h-{side}z") />
                <path class="qr__dark" d=path />
            </svg>
        </div>
    }
    .into_tree()
}
