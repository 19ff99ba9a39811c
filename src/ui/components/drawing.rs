use crate::ui::prelude::*;
use leptos::html::Div;

use two_marks::chart::{
    Anchor, Colour, Drawing, Fill, Frame, Item, Label, Look, Paint, Pattern, Words, lines_path,
    polygon_path, polyline_path,
};

/// A box whose drawing is made for exactly its size, and made again when that changes.
///
/// `class` sets the height. `resized` is read so that the box is measured anew after a change of
/// the window or of the text size. `sentence` says the whole drawing to readers.
pub fn drawing_box(
    class: &'static str,
    prefix: &'static str,
    sentence: Signal<String>,
    resized: Signal<u32>,
    draw: impl Fn(Frame) -> Drawing + Send + Sync + 'static,
) -> Tree {
    let outer = NodeRef::<Div>::new();
    let probe = NodeRef::<Div>::new();
    let frame = RwSignal::new(None::<Frame>);
    Effect::new(move || {
        // Its first run comes later: what it reads may be gone by then, if the page was laid anew.
        let boxes = (outer.try_get().flatten(), probe.try_get().flatten());
        let (Some(_), (Some(outer), Some(probe))) = (resized.try_get(), boxes) else {
            return;
        };
        // The probe is sixteen times the root font wide, since browsers report whole pixels.
        let font = two_marks::chart::Px::hundredths(i64::from(probe.offset_width()) * 100 / 16);
        let (width, height) = (outer.client_width(), outer.client_height());
        let whole = |pixels: i32| two_marks::chart::Px::whole(i64::from(pixels));
        let measured = Frame { width: whole(width), height: whole(height), font };
        if frame.get_untracked() != Some(measured) {
            frame.set(Some(measured));
        }
    });
    view! {
        <div class=class node_ref=outer role="img" aria-label=move || sentence.get()>
            <div class="rem-probe" node_ref=probe></div>
            {move || frame.get().map(|frame| drawing_view(&draw(frame), prefix))}
        </div>
    }
    .into_tree()
}

/// A finished drawing as elements, coloured by class so that dark mode and print need nothing more.
/// It is hidden from readers: whoever shows it says it in words.
pub fn drawing_view(drawing: &Drawing, prefix: &str) -> Tree {
    let (width, height) = (drawing.width.to_string(), drawing.height.to_string());
    let used = |pattern: Pattern| drawing.items.iter().any(|item| has_pattern(item, pattern));
    let patterns = [Pattern::Hatch, Pattern::Dots, Pattern::Diagonal, Pattern::Cross];
    let defs: Vec<_> = patterns
        .into_iter()
        .filter(|pattern| used(*pattern))
        .map(|pattern| pattern_view(pattern, prefix))
        .collect();
    let items: Vec<_> = drawing.items.iter().map(|item| item_view(item, prefix)).collect();
    view! {
        <svg
            class="drawing"
            width=width.clone()
            height=height.clone()
            viewBox=format!("0 0 {width} {height}")
            aria-hidden="true"
        >
            <defs>{defs}</defs>
            {items}
        </svg>
    }
    .into_tree()
}

fn has_pattern(item: &Item, pattern: Pattern) -> bool {
    item.paint().is_some_and(|paint| paint.look().fill == Fill::Pattern(pattern))
}

fn pattern_name(pattern: Pattern) -> &'static str {
    match pattern {
        Pattern::Hatch => "hatch",
        Pattern::Dots => "dots",
        Pattern::Diagonal => "diagonal",
        Pattern::Cross => "cross",
    }
}

fn pattern_view(pattern: Pattern, prefix: &str) -> Tree {
    let id = format!("{prefix}-{}", pattern_name(pattern));
    let (side, turn, path, class) = match pattern {
        Pattern::Hatch => ("7", "rotate(45)", "M0 0V7", "stroke-mark hatch"),
        Pattern::Dots => ("9", "", "M3 4.5a1.5 1.5 0 1 0 3 0a1.5 1.5 0 1 0 -3 0", "fill-mark"),
        Pattern::Diagonal => ("8", "rotate(45)", "M0 0V8", "stroke-mark"),
        Pattern::Cross => ("8", "rotate(45)", "M0 0V8M0 0H8", "stroke-mark"),
    };
    view! {
        <pattern id=id width=side height=side patternUnits="userSpaceOnUse" patternTransform=turn>
            <path d=path class=class stroke-width="2.4" />
        </pattern>
    }
    .into_tree()
}

fn item_view(item: &Item, prefix: &str) -> Tree {
    match item {
        Item::Rect { area, paint } => {
            let (x, y) = (area.x.to_string(), area.y.to_string());
            let (width, height) = (area.width.to_string(), area.height.to_string());
            let look = Worn::of(*paint, prefix);
            view! {
                <rect
                    x=x y=y width=width height=height class=look.class fill=look.fill
                    stroke-width=look.width stroke-dasharray=look.dash
                />
            }
            .into_tree()
        }
        Item::Lines { segments, paint } => path_view(lines_path(segments), *paint, prefix),
        Item::Polyline { points, paint } => path_view(polyline_path(points), *paint, prefix),
        Item::Polygon { rings, paint } => path_view(polygon_path(rings), *paint, prefix),
        Item::Circle { centre, radius, paint } => {
            let (x, y, r) = (centre.x.to_string(), centre.y.to_string(), radius.to_string());
            let look = Worn::of(*paint, prefix);
            view! { <circle cx=x cy=y r=r class=look.class fill=look.fill stroke-width=look.width /> }
                .into_tree()
        }
        Item::Limb { points, width, paint } => {
            let colour = match paint.look().fill {
                Fill::Flat(colour) => colour,
                _ => Colour::Ink,
            };
            let class = format!("limb stroke-{}", colour_name(colour));
            let path = polyline_path(points);
            view! { <path d=path class=class stroke-width=width.to_string() /> }.into_tree()
        }
        Item::Text(label) => text_view(label),
    }
}

fn path_view(path: String, paint: Paint, prefix: &str) -> Tree {
    let look = Worn::of(paint, prefix);
    view! {
        <path
            d=path class=look.class fill=look.fill
            stroke-width=look.width stroke-dasharray=look.dash
        />
    }
    .into_tree()
}

fn text_view(label: &Label) -> Tree {
    let anchor = match label.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let class = format!("t-{} fill-{}", weight(label.words), colour_name(label.words.colour()));
    let (x, y) = (label.at.x.to_string(), label.at.y.to_string());
    view! {
        <text x=x y=y text-anchor=anchor font-size=label.size.to_string() class=class>
            {label.content.clone()}
        </text>
    }
    .into_tree()
}

fn weight(words: Words) -> &'static str {
    match words.weight() {
        800 => "heavy",
        700 => "bold",
        _ => "plain",
    }
}

/// The attributes that a role wears on the page.
struct Worn {
    class: String,
    fill: Option<String>,
    width: Option<String>,
    dash: Option<String>,
}

impl Worn {
    fn of(paint: Paint, prefix: &str) -> Self {
        let Look { fill, stroke } = paint.look();
        let mut class = match fill {
            Fill::None => "fill-none".to_owned(),
            Fill::Flat(colour) => format!("fill-{}", colour_name(colour)),
            Fill::Pattern(_) => String::new(),
        };
        let fill = match fill {
            Fill::Pattern(pattern) => Some(format!("url(#{prefix}-{})", pattern_name(pattern))),
            Fill::None | Fill::Flat(_) => None,
        };
        let Some(stroke) = stroke else {
            return Self { class, fill, width: None, dash: None };
        };
        class.push_str(" stroke-");
        class.push_str(colour_name(stroke.colour));
        if stroke.round {
            class.push_str(" round");
        }
        let dash = (stroke.dash != (0, 0)).then(|| format!("{} {}", stroke.dash.0, stroke.dash.1));
        Self { class, fill, width: Some(stroke.width.to_string()), dash }
    }
}

const fn colour_name(colour: Colour) -> &'static str {
    match colour {
        Colour::Wall => "wall",
        Colour::Recess => "recess",
        Colour::Paper => "paper",
        Colour::Ink => "ink",
        Colour::InkSoft => "ink-soft",
        Colour::Dado => "dado",
        Colour::OnDado => "on-dado",
        Colour::OnDadoSoft => "on-dado-soft",
        Colour::Measure => "measure",
        Colour::OnMeasure => "on-measure",
        Colour::Mark => "mark",
        Colour::Stripe => "stripe",
        Colour::OnStripe => "on-stripe",
    }
}
