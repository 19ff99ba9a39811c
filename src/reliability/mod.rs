//! How sure one score is: reading steps, trial spread, day-to-day spread, own history and priors.
