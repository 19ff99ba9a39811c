use super::Px;

/// What a shape is, from which its colour, line and pattern follow.
///
/// A role says nothing about light or dark; a [`super::Palette`] does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "each role is named by what it paints")]
pub enum Paint {
    // The wall.
    Wall,
    Dado,
    Floor,
    Stripe,
    Measure,
    MeasureEdge,
    MeasureHook,
    Tick,
    TickFine,
    Cut,
    // Lines of the draughtsman.
    Dimension,
    DimensionDashed,
    DimensionOnDado,
    Slash,
    SlashOnDado,
    // Marks.
    ChalkMark,
    ChalkMarkOnDado,
    ChalkMarkHollow,
    ReachMark,
    Typing,
    Foul,
    MarkLine,
    MarkLineDotted,
    Usual,
    Best,
    Halo,
    HaloStripe,
    HaloDado,
    Hatch,
    // The tape of a published reference.
    StripPlain,
    StripDots,
    StripDiagonal,
    StripCross,
    StripSolid,
    StripEnd,
    Case,
    Lead,
    // Tags and signs.
    Tag,
    Flag,
    FlagCloth,
    // The season.
    Month,
    ErrorBar,
    Trend,
    Growth,
    Learning,
    Track,
    TrackDashed,
    Band,
    BandEdge,
    // The class.
    Brick,
    BrickFlagged,
    Median,
    Quartile,
    // The person in the drawings of technique.
    Body,
    BodyFar,
    Arrow,
    Ghost,
}

/// A colour token of the design. Three colours, no judgement: none means good or bad.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "the names of the design tokens")]
pub enum Colour {
    Wall,
    Recess,
    Paper,
    Ink,
    InkSoft,
    Dado,
    OnDado,
    OnDadoSoft,
    Measure,
    OnMeasure,
    Mark,
    Stripe,
    OnStripe,
}

/// A pattern to fill with. Thin open hatch always means doubt; the others are strips of tape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "the names of the patterns")]
pub enum Pattern {
    Hatch,
    Dots,
    Diagonal,
    Cross,
}

/// How an area is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// Not at all.
    None,
    /// With one colour.
    Flat(Colour),
    /// With a pattern on whatever lies under it.
    Pattern(Pattern),
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stroke {
    /// Its colour.
    pub colour: Colour,
    /// Its width.
    pub width: Px,
    /// Dash and gap in whole pixels, both zero for a full line.
    pub dash: (u8, u8),
    /// Round ends and corners.
    pub round: bool,
}

/// The look of a role.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// The inside.
    pub fill: Fill,
    /// The outline, or the line itself.
    pub stroke: Option<Stroke>,
}

const fn flat(colour: Colour) -> Look {
    Look { fill: Fill::Flat(colour), stroke: None }
}

const fn line(colour: Colour, tenths: i64) -> Look {
    dashed(colour, tenths, (0, 0))
}

const fn dashed(colour: Colour, tenths: i64, dash: (u8, u8)) -> Look {
    let stroke = Stroke { colour, width: Px::hundredths(tenths * 10), dash, round: false };
    Look { fill: Fill::None, stroke: Some(stroke) }
}

const fn round(colour: Colour, tenths: i64) -> Look {
    let stroke = Stroke { colour, width: Px::hundredths(tenths * 10), dash: (0, 0), round: true };
    Look { fill: Fill::None, stroke: Some(stroke) }
}

const fn pattern(pattern: Pattern) -> Look {
    Look { fill: Fill::Pattern(pattern), stroke: None }
}

const fn outlined(fill: Colour, outline: Look) -> Look {
    Look { fill: Fill::Flat(fill), stroke: outline.stroke }
}

impl Paint {
    /// The look that the design gives the role: lines of 2 and 3 px, slashes of 4 px.
    pub const fn look(self) -> Look {
        use Colour as C;
        match self {
            Self::Wall => flat(C::Wall),
            Self::Dado => flat(C::Dado),
            Self::Floor | Self::Dimension | Self::Quartile | Self::Cut => line(C::Ink, 20),
            Self::Stripe => flat(C::Stripe),
            Self::Measure => flat(C::Measure),
            Self::MeasureEdge | Self::Tick => line(C::OnMeasure, 20),
            Self::MeasureHook => flat(C::OnMeasure),
            Self::TickFine => line(C::OnMeasure, 10),
            Self::DimensionDashed => dashed(C::Ink, 20, (3, 4)),
            Self::DimensionOnDado => line(C::OnDado, 20),
            Self::Slash | Self::Foul => line(C::Ink, 40),
            Self::SlashOnDado => line(C::OnDado, 40),
            Self::ChalkMark | Self::StripSolid | Self::Brick => flat(C::Mark),
            Self::ChalkMarkOnDado => flat(C::OnDado),
            Self::ChalkMarkHollow | Self::BrickFlagged => outlined(C::Wall, line(C::Mark, 20)),
            Self::ReachMark => flat(C::OnStripe),
            Self::Typing => outlined(C::Wall, dashed(C::Ink, 20, (5, 3))),
            Self::MarkLine | Self::Best | Self::ErrorBar => line(C::Mark, 20),
            Self::MarkLineDotted => dashed(C::Mark, 20, (2, 5)),
            Self::Usual => dashed(C::Mark, 20, (7, 4)),
            Self::Halo => round(C::Wall, 60),
            Self::HaloStripe => round(C::Stripe, 60),
            Self::HaloDado => round(C::Dado, 60),
            Self::Hatch => pattern(Pattern::Hatch),
            Self::StripPlain => outlined(C::Paper, line(C::Ink, 20)),
            Self::StripDots => pattern(Pattern::Dots),
            Self::StripDiagonal => pattern(Pattern::Diagonal),
            Self::StripCross => pattern(Pattern::Cross),
            Self::StripEnd => dashed(C::Ink, 20, (3, 3)),
            Self::Case => line(C::Paper, 90),
            Self::Lead => line(C::Mark, 30),
            Self::Tag => flat(C::Ink),
            Self::Flag => line(C::Ink, 25),
            Self::FlagCloth => outlined(C::Wall, line(C::Ink, 25)),
            Self::Month => line(C::Recess, 20),
            Self::Trend => round(C::Mark, 40),
            Self::Growth => dashed(C::InkSoft, 15, (8, 4)),
            Self::Learning => dashed(C::InkSoft, 15, (2, 3)),
            Self::Track => line(C::InkSoft, 20),
            Self::TrackDashed => dashed(C::InkSoft, 20, (6, 3)),
            Self::Band => flat(C::Recess),
            Self::BandEdge => line(C::InkSoft, 10),
            Self::Median => dashed(C::Ink, 30, (7, 4)),
            Self::Body | Self::BodyFar | Self::Arrow | Self::Ghost => self.person(),
        }
    }

    /// The roles of the person, whose far limbs are lighter so that the near ones stand out.
    const fn person(self) -> Look {
        match self {
            Self::BodyFar => flat(Colour::InkSoft),
            Self::Arrow => round(Colour::Ink, 30),
            Self::Ghost => dashed(Colour::Ink, 20, (4, 4)),
            _ => flat(Colour::Ink),
        }
    }

    /// A stable name for a class or a test, in kebab case.
    pub fn name(self) -> String {
        let mut name = String::new();
        for letter in format!("{self:?}").chars() {
            if letter.is_uppercase() && !name.is_empty() {
                name.push('-');
            }
            name.push(letter.to_ascii_lowercase());
        }
        name
    }
}

/// What a text is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "each role is named by where it stands")]
pub enum Words {
    Plain,
    Strong,
    Soft,
    Hero,
    Tick,
    OnDado,
    OnDadoSoft,
    OnTag,
    OnTagSoft,
    OnBand,
}

impl Words {
    /// Colour of the letters.
    pub const fn colour(self) -> Colour {
        match self {
            Self::Plain | Self::Strong | Self::Hero => Colour::Ink,
            Self::Soft | Self::OnBand => Colour::InkSoft,
            Self::Tick => Colour::OnMeasure,
            Self::OnDado => Colour::OnDado,
            Self::OnDadoSoft => Colour::OnDadoSoft,
            Self::OnTag | Self::OnTagSoft => Colour::Wall,
        }
    }

    /// Font weight.
    pub const fn weight(self) -> u16 {
        match self {
            Self::Soft | Self::OnDadoSoft | Self::OnTagSoft => 500,
            Self::Plain | Self::OnBand => 600,
            Self::Tick | Self::OnDado => 700,
            Self::Strong | Self::Hero | Self::OnTag => 800,
        }
    }

    /// Whether the letters carry a halo of plaster, which cuts hatch and lines behind them.
    pub const fn has_halo(self) -> bool {
        matches!(self, Self::Plain | Self::Strong | Self::Soft | Self::Hero)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_fit_for_classes() {
        assert_eq!(Paint::ChalkMarkHollow.name(), "chalk-mark-hollow");
        assert_eq!(Paint::Wall.name(), "wall");
    }

    #[test]
    fn doubt_and_tape_have_different_patterns() {
        assert_eq!(Paint::Hatch.look().fill, Fill::Pattern(Pattern::Hatch));
        assert_ne!(Paint::Hatch.look(), Paint::StripDiagonal.look());
    }
}
