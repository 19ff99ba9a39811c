//! Change across sessions, judged against noise and growth.
