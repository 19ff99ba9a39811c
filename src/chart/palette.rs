use super::Colour;

/// The colours of a drawing.
///
/// [`Palette::Tokens`] names the page's custom properties, so that one drawing serves light, dark,
/// strong contrast and print; the others are for a picture that leaves the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Palette {
    /// `var(--wall)` and so on, for the page.
    Tokens,
    /// Plaster by day.
    Light,
    /// Plaster by night.
    Dark,
    /// Black on white; measure and dado lose their fill and keep their lines.
    Print,
}

impl Palette {
    /// The value of a `fill` or `stroke` attribute.
    pub const fn value(self, colour: Colour) -> &'static str {
        match self {
            Self::Tokens => token(colour),
            Self::Light => light(colour),
            Self::Dark => dark(colour),
            Self::Print => print(colour),
        }
    }
}

const fn token(colour: Colour) -> &'static str {
    match colour {
        Colour::Wall => "var(--wall)",
        Colour::Recess => "var(--recess)",
        Colour::Paper => "var(--paper)",
        Colour::Ink => "var(--ink)",
        Colour::InkSoft => "var(--ink-soft)",
        Colour::Dado => "var(--dado)",
        Colour::OnDado => "var(--on-dado)",
        Colour::OnDadoSoft => "var(--on-dado-soft)",
        Colour::Measure => "var(--measure)",
        Colour::OnMeasure => "var(--on-measure)",
        Colour::Mark => "var(--mark)",
        Colour::Stripe => "var(--stripe)",
        Colour::OnStripe => "var(--on-stripe)",
    }
}

const fn light(colour: Colour) -> &'static str {
    match colour {
        Colour::Wall => "#FAE8DD",
        Colour::Recess => "#F1D6C8",
        Colour::Paper => "#FFFDFA",
        Colour::Ink | Colour::OnMeasure | Colour::OnStripe => "#14163A",
        Colour::InkSoft => "#36385F",
        Colour::Dado | Colour::Mark => "#1D2C86",
        Colour::OnDado | Colour::Stripe => "#FFFFFF",
        Colour::OnDadoSoft => "#DCE1FF",
        Colour::Measure => "#FFD23F",
    }
}

const fn dark(colour: Colour) -> &'static str {
    match colour {
        Colour::Wall => "#241A21",
        Colour::Recess => "#3A2E37",
        Colour::Paper => "#43363F",
        Colour::Ink => "#FFF1E8",
        Colour::InkSoft => "#E3CFC4",
        Colour::Dado => "#2636A0",
        Colour::OnDadoSoft => "#E0E4FF",
        Colour::Mark => "#FFFFFF",
        _ => light(colour),
    }
}

const fn print(colour: Colour) -> &'static str {
    match colour {
        Colour::Wall | Colour::Paper | Colour::Dado | Colour::Measure => "#FFFFFF",
        Colour::Recess => "#BBBBBB",
        _ => "#000000",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance after WCAG 2.2, in floats, which tests may use.
    fn luminance(hex: &str) -> f64 {
        let channel = |i: usize| {
            let value = f64::from(u8::from_str_radix(&hex[i..i + 2], 16).unwrap()) / 255.0;
            if value <= 0.04045 { value / 12.92 } else { libm::pow((value + 0.055) / 1.055, 2.4) }
        };
        0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
    }

    fn contrast(palette: Palette, a: Colour, b: Colour) -> f64 {
        let (a, b) = (luminance(palette.value(a)), luminance(palette.value(b)));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    /// WCAG 2.2, success criterion 1.4.6: text has a contrast of at least 7 : 1.
    #[test]
    fn text_can_be_read_in_every_palette() {
        use Colour as C;
        let pairs = [
            (C::Ink, C::Wall),
            (C::InkSoft, C::Wall),
            (C::Ink, C::Paper),
            (C::Wall, C::Ink),
            (C::OnDado, C::Dado),
            (C::OnDadoSoft, C::Dado),
            (C::OnMeasure, C::Measure),
        ];
        for palette in [Palette::Light, Palette::Dark, Palette::Print] {
            for (a, b) in pairs {
                assert!(contrast(palette, a, b) >= 7.0, "{palette:?} {a:?} on {b:?}");
            }
        }
    }

    /// WCAG 2.2, success criterion 1.4.11: what carries meaning has at least 3 : 1.
    #[test]
    fn marks_can_be_seen_in_every_palette() {
        use Colour as C;
        for palette in [Palette::Light, Palette::Dark, Palette::Print] {
            for (a, b) in [(C::Mark, C::Wall), (C::Mark, C::Paper), (C::OnStripe, C::Measure)] {
                assert!(contrast(palette, a, b) >= 3.0, "{palette:?} {a:?} on {b:?}");
            }
        }
    }
}
