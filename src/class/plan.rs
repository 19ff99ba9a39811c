//! How long a lesson takes.

/// A lesson. Common practice, no source: schools differ between 40 and 90 minutes.
pub const LESSON_MINUTES: u32 = 45;
/// Seconds for one pupil at one wall with two testers: 20 people in 30 minutes (Karlsruhe Institute
/// of Technology, test library, "Jump and Reach").
const SECONDS_EACH: u32 = 30 * 60 / 20;
/// Set-up, roles and the safety talk. Design choice.
const TALK_MINUTES: u32 = 5;
/// The warm-up together. Design choice, as the page's own warm-up.
const WARM_UP_MINUTES: u32 = 10;
/// Looking at the picture and putting things away. Design choice.
const END_MINUTES: u32 = 5;

/// The parts of a lesson, whole minutes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LessonPlan {
    /// Set-up, roles, safety talk.
    pub talk: u32,
    /// Warm-up together.
    pub warm_up: u32,
    /// Reaches and jumps.
    pub testing: u32,
    /// The picture, putting away.
    pub end: u32,
    /// All of it.
    pub total: u32,
    /// The fewest walls with which it fits a lesson.
    pub walls_needed: u32,
}

/// The plan for so many pupils at so many walls, two testers each; none without a wall.
///
/// ```
/// use two_marks::class::lesson_plan;
/// // The published pace.
/// assert_eq!(lesson_plan(20, 1).unwrap().testing, 30);
/// assert_eq!(lesson_plan(20, 0), None);
/// ```
pub fn lesson_plan(pupils: u32, walls: u32) -> Option<LessonPlan> {
    if walls == 0 {
        return None;
    }
    let testing = testing_minutes(pupils, walls);
    let rest = TALK_MINUTES + WARM_UP_MINUTES + END_MINUTES;
    let fits = |walls: &u32| rest + testing_minutes(pupils, *walls) <= LESSON_MINUTES;
    let walls_needed = (1..=pupils.max(1)).find(fits).unwrap_or(pupils.max(1));
    Some(LessonPlan {
        talk: TALK_MINUTES,
        warm_up: WARM_UP_MINUTES,
        testing,
        end: END_MINUTES,
        total: rest + testing,
        walls_needed,
    })
}

/// The wall with the most pupils sets the time.
fn testing_minutes(pupils: u32, walls: u32) -> u32 {
    pupils.div_ceil(walls).saturating_mul(SECONDS_EACH).div_ceil(60)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_walls_make_it_shorter_until_it_fits_the_lesson() {
        let plan = |walls| lesson_plan(30, walls).unwrap();
        assert_eq!((plan(1).testing, plan(2).testing, plan(3).testing), (45, 23, 15));
        assert_eq!(plan(1).walls_needed, 2);
        assert_eq!(plan(2).total, 43);
    }
}
