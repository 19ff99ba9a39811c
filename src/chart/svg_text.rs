use super::svg_path::view_box;
use super::{
    Anchor, Drawing, Fill, Item, Label, Look, Paint, Palette, Pattern, Px, lines_path,
    polygon_path, polyline_path,
};
use std::fmt::Write;

/// How a drawing leaves the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Export<'a> {
    /// The colours.
    pub palette: Palette,
    /// Makes the ids of the patterns unique where several drawings share a document; letters, digits
    /// and hyphens of it are kept, everything else is dropped.
    pub prefix: &'a str,
    /// The size of the picture in percent of the drawing. A drawing made for a phone and taken three
    /// times as large keeps the proportions of its lines: 360 × 450 at 300 % is 1080 × 1350.
    pub zoom_percent: u16,
    /// One short line for whoever opens the file.
    pub title: &'a str,
    /// What the picture shows, for readers that cannot see it.
    pub description: &'a str,
}

/// A drawing as an SVG file that stands by itself: every colour, width and font is an attribute, no
/// class, no style and no outside resource.
pub fn svg_file(drawing: &Drawing, export: &Export<'_>) -> String {
    let mut out = String::new();
    let zoomed = |size: Px| size.part(i64::from(export.zoom_percent), 100);
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}\" height=\"{}\" \
         viewBox=\"{}\" role=\"img\"><title>{}</title><desc>{}</desc>{}</svg>",
        zoomed(drawing.width),
        zoomed(drawing.height),
        view_box(drawing.width, drawing.height),
        escaped(export.title),
        escaped(export.description),
        svg_body(drawing, export.palette, export.prefix),
    );
    out
}

/// The inside of the `svg` element: patterns, then everything from the back to the front.
///
/// Under [`Palette::Tokens`] every shape also carries its role as a class, `p-chalk-mark` and so on,
/// for motion and print styles of the page. `prefix` is as in [`Export`]. Text from outside is escaped, so the result may be set
/// as the inside of an element.
pub fn svg_body(drawing: &Drawing, palette: Palette, prefix: &str) -> String {
    let prefix: String =
        prefix.chars().filter(|c| c.is_ascii_alphanumeric() || *c == '-').collect();
    let mut pen = Pen { out: String::new(), palette, prefix };
    pen.patterns(drawing);
    pen.out.push_str(
        "<g font-family=\"system-ui, -apple-system, 'Segoe UI', Roboto, 'Noto Sans', sans-serif\" \
         font-variant-numeric=\"tabular-nums lining-nums\">",
    );
    for item in &drawing.items {
        pen.item(item);
    }
    pen.out.push_str("</g>");
    pen.out
}

/// Text as it may stand in an element or an attribute. Characters that XML 1.0 forbids are dropped.
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(c),
            '\u{0}'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => {}
            _ => out.push(c),
        }
    }
    out
}

struct Pen {
    out: String,
    palette: Palette,
    prefix: String,
}

impl Pen {
    fn patterns(&mut self, drawing: &Drawing) {
        let used = |pattern| {
            drawing.items.iter().any(|item| {
                item.paint().is_some_and(|paint| paint.look().fill == Fill::Pattern(pattern))
            })
        };
        let all = [Pattern::Hatch, Pattern::Dots, Pattern::Diagonal, Pattern::Cross];
        if !all.into_iter().any(used) {
            return;
        }
        self.out.push_str("<defs>");
        for pattern in all.into_iter().filter(|pattern| used(*pattern)) {
            self.pattern(pattern);
        }
        self.out.push_str("</defs>");
    }

    fn pattern(&mut self, pattern: Pattern) {
        let mark = self.palette.value(super::Colour::Mark);
        let id = self.id(pattern);
        let (side, turn, inside) = match pattern {
            Pattern::Hatch => (
                7,
                " patternTransform=\"rotate(45)\"",
                format!(
                    "<path d=\"M0 0V7\" stroke=\"{mark}\" stroke-width=\"2\" opacity=\".62\"/>"
                ),
            ),
            Pattern::Dots => {
                (9, "", format!("<circle cx=\"4.5\" cy=\"4.5\" r=\"1.5\" fill=\"{mark}\"/>"))
            }
            Pattern::Diagonal => (
                8,
                " patternTransform=\"rotate(45)\"",
                format!("<path d=\"M0 0V8\" stroke=\"{mark}\" stroke-width=\"2.4\"/>"),
            ),
            Pattern::Cross => (
                8,
                " patternTransform=\"rotate(45)\"",
                format!("<path d=\"M0 0V8M0 0H8\" stroke=\"{mark}\" stroke-width=\"2.4\"/>"),
            ),
        };
        let _ = write!(
            self.out,
            "<pattern id=\"{id}\" width=\"{side}\" height=\"{side}\" \
             patternUnits=\"userSpaceOnUse\"{turn}>{inside}</pattern>"
        );
    }

    fn id(&self, pattern: Pattern) -> String {
        let name = match pattern {
            Pattern::Hatch => "hatch",
            Pattern::Dots => "dots",
            Pattern::Diagonal => "diagonal",
            Pattern::Cross => "cross",
        };
        format!("{}-{name}", self.prefix)
    }

    fn item(&mut self, item: &Item) {
        match item {
            Item::Rect { area, paint } => {
                let (x, y, w, h) = (area.x, area.y, area.width, area.height);
                let shape = format!("rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\"");
                self.shape(&shape, *paint, None);
            }
            Item::Lines { segments, paint } => self.path(&lines_path(segments), *paint, None),
            Item::Polyline { points, paint } => self.path(&polyline_path(points), *paint, None),
            Item::Polygon { rings, paint } => self.path(&polygon_path(rings), *paint, None),
            Item::Circle { centre, radius, paint } => {
                let shape =
                    format!("circle cx=\"{}\" cy=\"{}\" r=\"{radius}\"", centre.x, centre.y);
                self.shape(&shape, *paint, None);
            }
            Item::Limb { points, width, paint } => {
                self.path(&polyline_path(points), *paint, Some(*width));
            }
            Item::Text(label) => self.label(label),
        }
    }

    fn path(&mut self, d: &str, paint: Paint, limb: Option<Px>) {
        self.shape(&format!("path d=\"{d}\""), paint, limb);
    }

    fn shape(&mut self, shape: &str, paint: Paint, limb: Option<Px>) {
        let look = limb_look(paint.look(), limb);
        let fill = match look.fill {
            Fill::None => "none".to_owned(),
            Fill::Flat(colour) => self.palette.value(colour).to_owned(),
            Fill::Pattern(pattern) => format!("url(#{})", self.id(pattern)),
        };
        let _ = write!(self.out, "<{shape} fill=\"{fill}\"");
        if self.palette == Palette::Tokens {
            let _ = write!(self.out, " class=\"p-{}\"", paint.name());
        }
        if let Some(stroke) = look.stroke {
            let colour = self.palette.value(stroke.colour);
            let _ = write!(self.out, " stroke=\"{colour}\" stroke-width=\"{}\"", stroke.width);
            if stroke.dash != (0, 0) {
                let _ =
                    write!(self.out, " stroke-dasharray=\"{} {}\"", stroke.dash.0, stroke.dash.1);
            }
            if stroke.round {
                self.out.push_str(" stroke-linecap=\"round\" stroke-linejoin=\"round\"");
            }
        }
        self.out.push_str("/>");
    }

    fn label(&mut self, label: &Label) {
        let anchor = match label.anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        let (x, y, size) = (label.at.x, label.at.y, label.size);
        let (fill, weight) = (self.palette.value(label.words.colour()), label.words.weight());
        let _ = write!(
            self.out,
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" font-weight=\"{weight}\" \
             fill=\"{fill}\"{anchor}"
        );
        if label.words.has_halo() {
            let wall = self.palette.value(super::Colour::Wall);
            let _ = write!(
                self.out,
                " stroke=\"{wall}\" stroke-width=\"4\" stroke-linejoin=\"round\" \
                 paint-order=\"stroke\""
            );
        }
        let _ = write!(self.out, ">{}</text>", escaped(&label.content));
    }
}

/// A limb is a thick round line in the colour that its role fills with.
fn limb_look(look: Look, limb: Option<Px>) -> Look {
    match (limb, look.fill) {
        (Some(width), Fill::Flat(colour)) => {
            let stroke = super::Stroke { colour, width, dash: (0, 0), round: true };
            Look { fill: Fill::None, stroke: Some(stroke) }
        }
        _ => look,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chart::{Area, Point, Words};
    use expect_test::{Expect, expect};

    fn check(palette: Palette, expect: Expect) {
        let at = |x, y| Point::new(Px::whole(x), Px::whole(y));
        let label = Label {
            at: at(4, 12),
            anchor: Anchor::Middle,
            size: Px::whole(15),
            words: Words::Strong,
            content: "43.5 & more".to_owned(),
        };
        let area = Area::between(at(0, 0), at(30, 10));
        let items = vec![
            Item::Rect { area, paint: Paint::Hatch },
            Item::Lines { segments: vec![(at(0, 5), at(30, 5))], paint: Paint::Usual },
            Item::Limb {
                points: vec![at(1, 1), at(2, 8)],
                width: Px::hundredths(450),
                paint: Paint::Body,
            },
            Item::Text(label),
        ];
        let drawing = Drawing { width: Px::whole(30), height: Px::whole(20), items };
        let body = svg_body(&drawing, palette, "w1").replace("><", ">\n<");
        expect.assert_eq(&body);
    }

    #[test]
    fn a_picture_has_attributes_only() {
        check(
            Palette::Light,
            expect![[r##"
            <defs>
            <pattern id="w1-hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <path d="M0 0V7" stroke="#1D2C86" stroke-width="2" opacity=".62"/>
            </pattern>
            </defs>
            <g font-family="system-ui, -apple-system, 'Segoe UI', Roboto, 'Noto Sans', sans-serif" font-variant-numeric="tabular-nums lining-nums">
            <rect x="0" y="0" width="30" height="10" fill="url(#w1-hatch)"/>
            <path d="M0 5H30" fill="none" stroke="#1D2C86" stroke-width="2" stroke-dasharray="7 4"/>
            <path d="M1 1L2 8" fill="none" stroke="#14163A" stroke-width="4.5" stroke-linecap="round" stroke-linejoin="round"/>
            <text x="4" y="12" font-size="15" font-weight="800" fill="#14163A" text-anchor="middle" stroke="#FAE8DD" stroke-width="4" stroke-linejoin="round" paint-order="stroke">43.5 &amp; more</text>
            </g>"##]],
        );
    }

    #[test]
    fn the_page_gets_tokens_and_roles() {
        check(
            Palette::Tokens,
            expect![[r#"
            <defs>
            <pattern id="w1-hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <path d="M0 0V7" stroke="var(--mark)" stroke-width="2" opacity=".62"/>
            </pattern>
            </defs>
            <g font-family="system-ui, -apple-system, 'Segoe UI', Roboto, 'Noto Sans', sans-serif" font-variant-numeric="tabular-nums lining-nums">
            <rect x="0" y="0" width="30" height="10" fill="url(#w1-hatch)" class="p-hatch"/>
            <path d="M0 5H30" fill="none" class="p-usual" stroke="var(--mark)" stroke-width="2" stroke-dasharray="7 4"/>
            <path d="M1 1L2 8" fill="none" class="p-body" stroke="var(--ink)" stroke-width="4.5" stroke-linecap="round" stroke-linejoin="round"/>
            <text x="4" y="12" font-size="15" font-weight="800" fill="var(--ink)" text-anchor="middle" stroke="var(--wall)" stroke-width="4" stroke-linejoin="round" paint-order="stroke">43.5 &amp; more</text>
            </g>"#]],
        );
    }

    #[test]
    fn text_cannot_leave_its_element() {
        assert_eq!(escaped("<a b='\"'>&\u{8}\n"), "&lt;a b=&#39;&quot;&#39;&gt;&amp;\n");
    }
}
