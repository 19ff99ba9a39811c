//! The season as it is drawn: the story, the words and the wall put together.
//!
//! **Invariant.** Nothing is judged here: every height, line and band comes from
//! [`assess`](crate::assess), and every label from [`text`](crate::text).

mod card;
mod picture;
mod view;

pub use card::{SeasonFields, season_card};
pub use picture::{Picture, picture, window_or_all};
pub use view::View;
