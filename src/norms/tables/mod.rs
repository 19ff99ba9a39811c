//! One file per published table, as printed.
//!
//! Scores keep the unit they were printed in until they become a [`Length`](crate::quantity::Length),
//! which holds both exactly; the compiler checks that percentiles and scores ascend and that bands
//! meet. Copies of the files the tables were taken from lie in `docs/norms/`, and a test compares
//! every cell.

mod aus_arkinstall_2010;
mod can_chms_youth_2016;
mod estimate_from_flight;
mod gbr_beashel_1997;
mod gbr_davis_2000;
mod idn_tkji_2010;
mod kor_hospital_40s;
mod kor_nfa_2024_2026;
mod usa_basketball_combine;
mod usa_football_combine;
mod usa_fry_1991;
mod usa_hoffman_2006;
mod usa_lockie_2024;
mod usa_patterson_2004;
mod usa_texas_m2029;
mod who_2007_stature;

pub use aus_arkinstall_2010::AUS_ARKINSTALL_2010;
pub use can_chms_youth_2016::CAN_CHMS_YOUTH_2016;
pub use estimate_from_flight::{ESTIMATE_FROM_FLIGHT, WALL_OVER_FLIGHT};
pub use gbr_beashel_1997::GBR_BEASHEL_1997;
pub use gbr_davis_2000::GBR_DAVIS_2000;
pub use idn_tkji_2010::IDN_TKJI_2010;
pub use kor_hospital_40s::KOR_HOSPITAL_40S;
pub use kor_nfa_2024_2026::KOR_NFA_2024_2026;
pub use usa_basketball_combine::USA_BASKETBALL_COMBINE;
pub use usa_football_combine::USA_FOOTBALL_COMBINE;
pub use usa_fry_1991::USA_FRY_1991;
pub use usa_hoffman_2006::USA_HOFFMAN_2006;
pub use usa_lockie_2024::USA_LOCKIE_2024;
pub use usa_patterson_2004::USA_PATTERSON_2004;
pub use usa_texas_m2029::USA_TEXAS_M2029;
pub use who_2007_stature::{WHO_2007_STATURE, stature_gain_per_year};
