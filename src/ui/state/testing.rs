//! Actions of a test in progress.

use leptos::prelude::*;

use two_marks::assess::expected_trial_sd_cm;
use two_marks::flow::{
    Answers, Judged, Progress, REST_SECONDS, ReadyOutcome, Slot, StopReason, judge_mark,
    judge_reach, judge_time,
};
use two_marks::history::{JournalEntry, MarkMethod, Test};
use two_marks::measure::{
    Advice, COUNTED_TRIALS_MIN, COUNTED_TRIALS_MIN_AFTER_WALL, Device, Doubt, FlightTime,
    FoulReason, MarkContext, Outcome, Reach, ReachContext, Remedy, Session, Surface, TrendKey,
    Trial, Variant,
};
use two_marks::quantity::{Age, Division, JumpHeight, Length, Moment, Reading, StandingReach};
use two_marks::ready::{HeldStretch, Verdict, after_stretch, hard_jumps_left};
use two_marks::share::Route;

use super::App;

/// What the ready check shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ReadyView {
    /// What it comes to.
    pub outcome: ReadyOutcome,
    /// Hard jumps that are left today.
    pub jumps_left: usize,
}

impl App {
    /// Begins a test of the person shown, or goes on with a draft.
    pub fn begin(self) {
        // A real jump belongs to a real person: the invented family would take it along when it goes.
        self.end_example();
        if self.is_visiting() {
            self.go(&self.where_to_go_on());
            return;
        }
        let Some(person) = self.person() else {
            self.go(&Route::Who);
            return;
        };
        let wanted = self.wanted_clock.get_untracked();
        self.wanted_clock.set(None);
        if let Some((device, variant, surface)) =
            wanted.filter(|_| self.route.get_untracked() == Route::Who)
        {
            self.begin_clock(device, variant, surface);
            return;
        }
        let key = TrendKey { own_way: person.own_way, ..TrendKey::USUAL };
        let session = Session::new(key, person.hand, person.division);
        self.answers.set(Default::default());
        self.reset_entry();
        self.progress.set(Some(Progress::new(person.local, person.mark_method, session)));
        self.keep_draft();
        self.go(&Route::Ready);
    }

    /// Begins a test timed in the air, or goes on with a draft. It needs no reach.
    pub fn begin_clock(self, device: Device, variant: Variant, surface: Surface) {
        self.end_example();
        let Some(person) = self.person() else {
            self.wanted_clock.set(Some((device, variant, surface)));
            self.go(&Route::Who);
            return;
        };
        let own_way = person.own_way;
        let key = TrendKey { device, variant, surface, own_way, ..TrendKey::USUAL };
        let finest = Division::finest(person.division.unit());
        let mut session = Session::new(key, person.hand, finest);
        session.reach = Reach::MarkOnly;
        self.answers.set(Default::default());
        self.reset_entry();
        self.progress.set(Some(Progress::new(person.local, MarkMethod::BetweenMarks, session)));
        self.keep_draft();
        self.go(&Route::Ready);
    }

    /// Whether the test in progress is timed in the air.
    pub fn is_clock(self) -> bool {
        self.of_progress(|progress| progress.session.key.device.is_clock()).unwrap_or(false)
    }

    /// How many trials the test in progress needs: two are enough for time in the air after a wall
    /// test of the same day.
    fn trials_min(self) -> usize {
        let today = self.now().date();
        let at_wall = |test: &Test| test.date == today && !test.session.key.device.is_clock();
        let after_wall = self.is_clock() && self.tests.with(|tests| tests.iter().any(at_wall));
        if after_wall { COUNTED_TRIALS_MIN_AFTER_WALL } else { COUNTED_TRIALS_MIN }
    }

    /// A question about a time found in a film, with the height it is about.
    pub fn doubt_about_flight(self, time: FlightTime) -> Option<(Doubt, Reading)> {
        let typed = format!("{} ms", FlightTime::timed(time.micros).as_typed());
        let judged = self.judged_time(&typed);
        judged.doubts.first().copied().zip(judged.reading)
    }

    /// A typed time in the air, judged.
    fn judged_time(self, typed: &str) -> Judged {
        let (age, tests) = (self.age(), self.tests.with(Vec::len));
        self.of_progress(|progress| {
            let others = progress.other_heights();
            let typical = others.first().map_or(Length::from_mm(300), |height| height.0);
            let context = MarkContext {
                age,
                variant: progress.session.key.variant,
                reach: None,
                others: &others,
                trial_sd_cm: expected_trial_sd_cm(age, tests, typical),
            };
            judge_time(typed, progress.session.division.unit(), context)
        })
        .unwrap_or_default()
    }

    /// Keeps a time in the air found in a film.
    pub fn keep_flight(self, time: FlightTime) {
        let now = self.now();
        self.reset_entry();
        self.edit_kept(|progress| progress.keep_trial(Trial::FlightTime(time), now));
    }

    /// The page on which a draft goes on.
    pub fn where_to_go_on(self) -> Route {
        let now = self.now();
        self.progress.with(|progress| match progress {
            None => Route::Home,
            Some(progress) if !progress.is_ready(now) => Route::Ready,
            Some(progress) if progress.jumps() > 0 => Route::Jumps,
            Some(progress) if progress.reach_is_done() => Route::Jumps,
            Some(_) => Route::Reach,
        })
    }

    /// Throws the test in progress away.
    pub fn drop_test(self) {
        let gone = self.end_test();
        self.take_from_disk(gone);
    }

    /// Leaves the test in progress, which was saved or is not wanted; what takes its draft from the
    /// disk.
    pub(super) fn end_test(self) -> Vec<JournalEntry> {
        self.progress.set(None);
        self.reset_entry();
        let gone = self.forget_draft();
        if self.visit.with_untracked(Option::is_some) {
            self.forget_visit();
            // A class test came between: the device's own one goes on where it was.
            self.pick_up_draft();
        }
        gone
    }

    /// Leaves a test of the device's own people for a class test. Nothing of it is lost: it is taken up
    /// again afterwards.
    pub(super) fn put_own_test_by(self) {
        self.keep_draft_on_disk();
        self.forget_tab_draft();
        self.progress.set(None);
        self.reset_entry();
    }

    /// Changes the test in progress and keeps the draft of this tab.
    pub fn edit(self, change: impl FnOnce(&mut Progress)) {
        self.progress.update(|progress| {
            if let Some(progress) = progress {
                change(progress);
            }
        });
        self.keep_draft();
    }

    /// Changes what is kept of the test in progress, which is on the disk soon after.
    fn edit_kept(self, change: impl FnOnce(&mut Progress)) {
        self.edit(change);
        self.keep_draft_on_disk();
    }

    /// Reads something of the test in progress.
    pub fn of_progress<T>(self, read: impl FnOnce(&Progress) -> T) -> Option<T> {
        self.progress.with(|progress| progress.as_ref().map(read))
    }

    /// Forgets what was confirmed and tried, as at the start of a field.
    pub fn reset_entry(self) {
        self.confirmed.set(None);
        self.tried.set(false);
    }

    /// What the ready check comes to now.
    pub fn ready_view(self) -> ReadyView {
        let now = self.now();
        let jumps = self.jumps_today();
        let days: Vec<_> = self.tests.with(|tests| tests.iter().map(|test| test.date).collect());
        let outcome = self.answers.get().outcome(self.age(), now, jumps, &days);
        ReadyView { outcome, jumps_left: hard_jumps_left(jumps) }
    }

    /// Hard jumps of today: of all saved tests of the day and of the one in progress.
    pub fn jumps_today(self) -> usize {
        let today = self.now().date();
        let saved: usize = self.tests.with(|tests| {
            let today = tests.iter().filter(|test| test.date == today);
            today.map(|test| test.session.trials.len()).sum()
        });
        saved + self.of_progress(Progress::jumps).unwrap_or(0)
    }

    /// Takes an answer of the ready check. Who should not test today does not go on from an earlier
    /// check either.
    pub fn answer(self, change: impl FnOnce(&mut Answers)) {
        self.answers.update(change);
        let outcome = self.ready_view().outcome;
        use StopReason::{AskFirst, AskParent, NoAdult, Unwell};
        if matches!(outcome, ReadyOutcome::Stop(Unwell | AskFirst | AskParent | NoAdult)) {
            self.edit(|progress| progress.ready_passed_at = None);
        }
    }

    /// The page that an address may show now: the steps of a test need a test, and those after the
    /// ready check need it passed.
    pub fn allowed(self, route: &Route) -> Route {
        let now = self.now();
        let is_ready = self.progress.with_untracked(|test| Some(test.as_ref()?.is_ready(now)));
        match (route.step(), is_ready) {
            (Some(_), None) => Route::Home,
            (Some(1..), Some(false)) => Route::Ready,
            // What somebody really measured would go with the invented family.
            _ if matches!(route, Route::Class(_) | Route::Add) && self.example.get_untracked() => {
                Route::Example
            }
            // A class has chosen all that is chosen there.
            _ if *route == Route::Setup && self.is_visiting() => Route::Reach,
            _ if matches!(route, Route::Who | Route::AddPerson | Route::Person(_))
                && self.is_visiting() =>
            {
                self.where_to_go_on()
            }
            // A jump timed in the air needs no tape and no reach.
            (Some(2), _) if untrack(|| self.is_clock()) => Route::Jumps,
            (Some(_), _) if *route == Route::Film && !untrack(|| self.is_clock()) => Route::Jumps,
            _ => route.clone(),
        }
    }

    /// Passes the ready check and leads on.
    pub fn pass_ready(self) {
        let now = self.now();
        let leg_work = self.answers.get_untracked().legs.leg_work(now);
        self.edit(|progress| {
            progress.ready_passed_at = Some(now);
            progress.leg_work = leg_work;
        });
        self.go(&Route::WarmUp);
    }

    /// Chooses a jump; its records are apart from all others.
    pub fn choose_variant(self, variant: two_marks::measure::Variant) {
        self.edit(|progress| progress.session.key.variant = variant);
    }

    /// Chooses the ground.
    pub fn choose_surface(self, surface: Surface) {
        self.edit(|progress| progress.session.key.surface = surface);
    }

    /// Chooses how marks are read; readings made the other way would mean something else, so they go.
    pub fn choose_method(self, method: MarkMethod) {
        self.edit(|progress| {
            if progress.method != method {
                progress.method = method;
                progress.session.trials.clear();
                progress.session.reach = match method {
                    MarkMethod::FromFloor => Reach::Measured(Vec::new()),
                    MarkMethod::BetweenMarks => Reach::MarkOnly,
                };
                progress.clear_typed();
            }
        });
        self.remember_way();
    }

    /// Chooses the step of the tape. Readings already kept stay as they were read.
    pub fn choose_division(self, division: Division) {
        self.edit(|progress| progress.session.division = division);
        self.remember_way();
    }

    /// What is typed, judged as a reach.
    pub fn judged_reach(self) -> Judged {
        let (age, today) = (self.age(), self.now().date());
        let last = self.last_reach().map(|(reading, day)| (StandingReach(reading.length()), day));
        self.of_progress(|progress| {
            let context = ReachContext { age, today, last };
            judge_reach(&progress.typed, progress.session.division, context)
        })
        .unwrap_or_default()
    }

    /// The reach that counted last time, by the same method, with its day.
    pub fn last_reach(self) -> Option<(Reading, chrono::NaiveDate)> {
        self.tests.with(|tests| tests.iter().find_map(reach_of))
    }

    /// What is typed, judged as a jump mark.
    pub fn judged_mark(self) -> Judged {
        if self.is_clock() {
            let typed = self.of_progress(|progress| progress.typed.clone());
            return self.judged_time(&typed.unwrap_or_default());
        }
        let age = self.age();
        let tests = self.tests.with(Vec::len);
        self.of_progress(|progress| {
            let others = progress.other_heights();
            let reach = match progress.method {
                MarkMethod::FromFloor => progress.session.standing_reach(),
                MarkMethod::BetweenMarks => None,
            };
            let typical = others.first().map_or(Length::from_mm(400), |height| height.0);
            let context = MarkContext {
                age,
                variant: progress.session.key.variant,
                reach,
                others: &others,
                trial_sd_cm: expected_trial_sd_cm(age, tests, typical),
            };
            judge_mark(&progress.typed, progress.session.division, context)
        })
        .unwrap_or_default()
    }

    /// The height that the typed mark comes to, once it may be kept.
    pub fn typed_height(self) -> Option<JumpHeight> {
        let reading = self.judged_mark().keepable(self.confirmed.get())?;
        self.of_progress(|progress| {
            let reach = progress.session.standing_reach();
            match progress.trial_of(reading).outcome(reach) {
                Outcome::Counted(height) => Some(height),
                Outcome::Foul(_) | Outcome::NoReach => None,
            }
        })
        .flatten()
    }

    /// Gives the test in progress to the person now shown, with nothing of it lost.
    pub fn hand_test_over(self) {
        let Some(person) = self.person() else {
            return;
        };
        self.edit(|progress| {
            progress.person = person.local.clone();
            progress.session.hand = person.hand;
            progress.session.key.own_way = person.own_way;
        });
    }

    /// Presses "keep" on the reach page.
    pub fn keep_typed_reach(self) {
        match self.judged_reach().keepable(self.confirmed.get_untracked()) {
            Some(reading) => {
                self.reset_entry();
                self.edit_kept(|progress| progress.keep_reach(reading));
            }
            None => self.refuse_entry(),
        }
    }

    /// Presses "keep" on the jumps page.
    pub fn keep_typed_trial(self) {
        let now = self.now();
        match self.judged_mark().keepable(self.confirmed.get_untracked()) {
            Some(reading) => {
                self.reset_entry();
                self.edit_kept(|progress| progress.keep_trial(progress.trial_of(reading), now));
            }
            None => self.refuse_entry(),
        }
    }

    /// Goes on to the readings. A number that was typed and not kept is kept first, or asked about:
    /// it must not be left behind unseen.
    pub fn finish_trials(self) {
        let is_typed = || self.of_progress(|progress| !progress.typed.trim().is_empty());
        if is_typed() == Some(true) {
            self.keep_typed_trial();
            if is_typed() == Some(true) {
                return;
            }
        }
        self.go(&Route::Check);
    }

    fn refuse_entry(self) {
        self.tried.set(true);
        (self.ports().focus)("entry");
    }

    /// Takes a one-tap mend.
    pub fn mend(self, remedy: Remedy) {
        let words = self.words.get_untracked();
        match remedy {
            Remedy::ReadAs(reading) => {
                let text = words.entry_text(reading);
                self.edit(|progress| {
                    progress.session.division = reading.division;
                    progress.typed = text;
                });
            }
            Remedy::SwapWithReach => {
                let mark = self.judged_mark().reading;
                self.edit_kept(|progress| {
                    if let Some(mark) = mark {
                        progress.swap_with_reach(mark, |reading| words.entry_text(reading));
                    }
                });
            }
        }
        self.reset_entry();
    }

    /// Notes a foul.
    pub fn foul(self, reason: FoulReason) {
        let now = self.now();
        self.reset_entry();
        self.edit_kept(|progress| progress.foul(reason, now));
    }

    /// Takes the newest trial back into the field.
    pub fn undo_trial(self) {
        let words = self.words.get_untracked();
        self.reset_entry();
        self.edit_kept(|progress| progress.undo_trial(|reading| words.entry_text(reading)));
    }

    /// Opens a trial for a change.
    pub fn change_trial(self, at: usize) {
        let words = self.words.get_untracked();
        self.reset_entry();
        self.edit(|progress| progress.change_trial(at, |reading| words.entry_text(reading)));
    }

    /// Gives up the change of a trial: it stays as it was.
    pub fn leave_trial_change(self) {
        self.reset_entry();
        self.edit(Progress::clear_typed);
    }

    /// Opens a reach for a change.
    pub fn change_reach(self, at: usize) {
        let words = self.words.get_untracked();
        self.reset_entry();
        self.edit(|progress| progress.change_reach(at, |reading| words.entry_text(reading)));
    }

    /// An adult uses an earlier reach.
    pub fn reuse_reach(self) {
        let Some((reading, measured_on)) = self.last_reach() else {
            return;
        };
        self.edit_kept(|progress| {
            progress.session.reach = Reach::Reused { reading, measured_on };
            progress.clear_typed();
        });
    }

    /// Answers the question about held stretches; none means that there were none.
    pub fn answer_stretch(self, long: Option<bool>) {
        let now = self.now();
        let held = long.map(|long| HeldStretch { long, ended: now, moved_since: false });
        self.edit(|progress| progress.stretch = Some(held));
    }

    /// Five minutes of movement came after the stretch.
    pub fn moved_since_stretch(self) {
        self.edit(|progress| {
            if let Some(Some(held)) = &mut progress.stretch {
                held.moved_since = true;
            }
        });
    }

    /// The verdict about held stretches, once asked.
    pub fn stretch_verdict(self) -> Option<Verdict> {
        let now = self.now();
        self.of_progress(|progress| progress.stretch.map(|held| after_stretch(held, now))).flatten()
    }

    /// What to do after the newest trial, the day's limit included.
    pub fn advice(self) -> Option<(Advice, bool)> {
        let day_is_full = hard_jumps_left(self.jumps_today()) == 0;
        if let Some(setup) = self.visit_setup() {
            let done = self.of_progress(Progress::jumps)?;
            let left = usize::from(setup.trials).saturating_sub(done);
            let advice = if left > 0 { Advice::Missing(left) } else { Advice::Full };
            return Some((advice, day_is_full));
        }
        let trials_min = self.trials_min();
        self.of_progress(|progress| (progress.session.advice_of(trials_min), day_is_full))
    }

    /// Seconds of rest between two jumps.
    pub fn rest_seconds(self) -> u32 {
        self.visit_setup().map_or(REST_SECONDS, |setup| u32::from(setup.rest_seconds))
    }

    /// Whether another trial may be typed.
    pub fn may_jump_again(self) -> bool {
        let changing = self.of_progress(|progress| progress.slot != Slot::Next).unwrap_or(false);
        let full = |(advice, day_is_full): (Advice, bool)| day_is_full || advice == Advice::Full;
        changing || !self.advice().is_some_and(full)
    }
}

/// The reach that counted in a test measured from the floor at a wall.
fn reach_of(test: &Test) -> Option<(Reading, chrono::NaiveDate)> {
    let session = &test.session;
    if session.key.device != Device::Wall {
        return None;
    }
    let length = session.standing_reach()?.0;
    Some((Reading::nearest(length, session.division), test.date))
}

/// Adults may use a reach of up to a year. Under 18 it is measured anew at every test.
pub fn may_reuse(age: Age, measured_on: chrono::NaiveDate, now: Moment) -> bool {
    let days = two_marks::quantity::days_between(measured_on, now.date());
    age.is_adult() && (0..=365).contains(&days)
}
