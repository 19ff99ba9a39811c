//! A film, frame by frame: what is shown, which two frames are chosen, and the looks that lead there.

use std::collections::VecDeque;
use std::rc::Rc;

use leptos::prelude::*;

use two_marks::measure::{
    Airtime, ClipFault, Closer, Found, FrameFault, FrameMap, Instants, Look, Pictures, Shown,
    Speed, airtime,
};

use super::Later;

/// What the page asks of the browser about a film.
pub trait Reel {
    /// Opens the file that was just picked; how long it plays, microseconds.
    fn open_file(&self, event: leptos::ev::Event) -> Later<Result<u64, ClipFault>>;
    /// Whether the browser can film by itself.
    fn can_record(&self) -> bool;
    /// Shows what the camera sees.
    fn open_camera(&self) -> Later<Result<(), ClipFault>>;
    /// Whether the browser reads codes before the camera.
    fn can_read_codes(&self) -> bool;
    /// Shows what the camera sees, sharp enough for codes.
    fn open_reader(&self) -> Later<Result<(), ClipFault>>;
    /// Hands on what each look at the camera's picture reads, by lines, until told that it is
    /// enough; ends early when the camera goes away.
    fn read_codes(&self, seen: Box<dyn FnMut(String) -> bool>) -> Later<()>;
    /// Begins to film; calls when the camera goes away.
    fn record(&self, lost: Box<dyn Fn()>) -> bool;
    /// Ends filming and opens what was filmed.
    fn stop(&self) -> Later<Result<u64, ClipFault>>;
    /// Shows the film at a time and tells what it can of the frame shown.
    fn look(&self, micros: u64) -> Later<Option<Shown>>;
    /// Copies a part of the frame shown onto a canvas.
    fn snap(&self, canvas: String, closer: Closer);
    /// Forgets the film.
    fn close(&self);
}

/// The element that plays the film.
pub const FILM: &str = "film";

/// One of the two instants to find.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Instant {
    /// The first frame with both feet off the floor.
    TakeOff,
    /// The first frame that touches again.
    Landing,
}

impl Instant {
    /// The element of one picture of its strip.
    pub fn canvas(self, at: usize) -> String {
        let name = match self {
            Self::TakeOff => "off",
            Self::Landing => "on",
        };
        format!("strip-{name}-{at}")
    }
}

/// A chosen frame with its neighbours.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// The frame.
    pub frame: u64,
    /// The frame just before it.
    pub before: u64,
    /// Frames around it, in order.
    pub strip: Vec<u64>,
}

/// Where the film comes from, and how far it is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stage {
    /// None yet.
    #[default]
    None,
    /// It is being opened.
    Opening,
    /// The camera shows its picture.
    Camera,
    /// The camera films.
    Recording,
    /// It plays this long, microseconds.
    Open(u64),
}

/// Something to do with the film, one after another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Job {
    /// So many frames on or back.
    Frames(i32),
    /// To a time.
    To(u64),
    /// To a frame seen before.
    Frame(u64),
    /// The frame shown is this instant.
    Choose(Instant),
}

/// Frames on each side of a chosen one in its strip.
const AROUND: usize = 2;
/// Most jobs that wait: a key held down does not queue for ever.
const JOBS_MAX: usize = 12;
/// How often a look that told nothing is tried again.
const TRIES: usize = 4;

/// The film under way. Copies share the same signals.
#[derive(Clone, Copy)]
pub struct Film {
    /// How far it is.
    pub stage: RwSignal<Stage>,
    /// Why it could not be opened.
    pub fault: RwSignal<Option<ClipFault>>,
    /// The time stamp of the frame shown, microseconds.
    pub now: RwSignal<Option<u64>>,
    /// The film is being looked through.
    pub busy: RwSignal<bool>,
    /// The step asked for led beyond the first or last frame.
    pub at_end: RwSignal<bool>,
    /// The chosen take-off.
    pub take_off: RwSignal<Option<Chosen>>,
    /// The chosen landing.
    pub landing: RwSignal<Option<Chosen>>,
    /// The browser does not tell the times of frames: they are found by looking.
    pub by_looking: RwSignal<bool>,
    /// Whether it plays as fast as it was filmed; none until the person says.
    pub speed: RwSignal<Option<Speed>>,
    /// How closely its picture is looked at, and where.
    pub closer: RwSignal<Closer>,
    held: StoredValue<Held, LocalStorage>,
}

struct Held {
    reel: Rc<dyn Reel>,
    spawn: fn(Later<()>),
    map: FrameMap,
    pictures: Pictures,
    jobs: VecDeque<Job>,
    /// Goes up with every film, so that what belongs to an earlier one stops.
    film: u32,
}

impl Film {
    /// No film yet.
    pub fn new(reel: Rc<dyn Reel>, spawn: fn(Later<()>)) -> Self {
        Self {
            stage: RwSignal::new(Stage::None),
            fault: RwSignal::new(None),
            now: RwSignal::new(None),
            busy: RwSignal::new(false),
            at_end: RwSignal::new(false),
            take_off: RwSignal::new(None),
            landing: RwSignal::new(None),
            by_looking: RwSignal::new(false),
            speed: RwSignal::new(None),
            closer: RwSignal::new(Closer::default()),
            held: StoredValue::new_local(Held {
                reel,
                spawn,
                map: FrameMap::default(),
                pictures: Pictures::default(),
                jobs: VecDeque::new(),
                film: 0,
            }),
        }
    }

    fn reel(self) -> Rc<dyn Reel> {
        self.held.with_value(|held| held.reel.clone())
    }

    /// Whether the browser can film by itself.
    pub fn can_record(self) -> bool {
        self.reel().can_record()
    }

    fn spawn(self, work: Later<()>) {
        self.held.with_value(|held| held.spawn)(work);
    }

    fn film_number(self) -> u32 {
        self.held.with_value(|held| held.film)
    }

    /// Forgets the film, on leaving the page too.
    pub fn close(self) {
        self.reel().close();
        self.held.update_value(|held| {
            held.map = FrameMap::default();
            held.pictures = Pictures::default();
            held.jobs.clear();
            held.film = held.film.wrapping_add(1);
        });
        self.busy.set(false);
        self.by_looking.set(false);
        self.now.set(None);
        self.stage.set(Stage::None);
        self.fault.set(None);
        self.closer.set(Closer::default());
        self.speed.set(None);
        self.forget_choices();
    }

    /// Forgets both chosen frames: the next jump of the same film.
    pub fn forget_choices(self) {
        self.take_off.set(None);
        self.landing.set(None);
    }

    /// Opens the file that was just picked.
    pub fn open_file(self, event: leptos::ev::Event) {
        // The file is read from the event before anything waits.
        let opening = self.reel().open_file(event);
        self.await_film(opening);
    }

    fn await_film(self, opening: Later<Result<u64, ClipFault>>) {
        self.held.update_value(|held| {
            held.map = FrameMap::default();
            held.pictures = Pictures::default();
            held.jobs.clear();
            held.film = held.film.wrapping_add(1);
        });
        let film = self.film_number();
        self.forget_choices();
        // Another film may be at another speed: nothing is taken over, since nothing is guessed.
        self.speed.set(None);
        self.now.set(None);
        self.by_looking.set(false);
        self.busy.set(false);
        self.fault.set(None);
        self.stage.set(Stage::Opening);
        self.spawn(Box::pin(async move {
            let opened = opening.await;
            if self.film_number() != film {
                return;
            }
            match opened {
                Ok(duration) => {
                    self.held.update_value(|held| held.map = FrameMap::of(duration));
                    self.stage.set(Stage::Open(duration));
                    self.push(Job::To(0));
                }
                Err(fault) => self.fail(fault),
            }
        }));
    }

    fn fail(self, fault: ClipFault) {
        self.close();
        self.fault.set(Some(fault));
    }

    /// Asks for the camera.
    pub fn open_camera(self) {
        self.close();
        self.await_camera(self.reel().open_camera(), None);
    }

    /// Whether the browser reads codes before the camera.
    pub fn can_read_codes(self) -> bool {
        self.reel().can_read_codes()
    }

    /// Asks for the camera and hands on the codes that it sees, until it is closed.
    pub fn read_codes(self, seen: impl Fn(String) + 'static) {
        self.close();
        self.await_camera(self.reel().open_reader(), Some(Box::new(seen)));
    }

    fn await_camera(
        self,
        opening: Later<Result<(), ClipFault>>,
        seen: Option<Box<dyn Fn(String)>>,
    ) {
        self.stage.set(Stage::Opening);
        let film = self.film_number();
        self.spawn(Box::pin(async move {
            let opened = opening.await;
            if self.film_number() != film {
                // The person has left meanwhile: the camera is let go.
                self.reel().close();
                return;
            }
            match opened {
                Ok(()) => self.stage.set(Stage::Camera),
                Err(fault) => return self.fail(fault),
            }
            let Some(seen) = seen else { return };
            let look = move |codes: String| {
                let goes_on = self.film_number() == film;
                if goes_on && !codes.is_empty() {
                    seen(codes);
                }
                goes_on
            };
            self.reel().read_codes(Box::new(look)).await;
            if self.film_number() == film {
                self.fail(ClipFault::CameraLost);
            }
        }));
    }

    /// Begins to film.
    pub fn record(self) {
        let film = self.film_number();
        let lost = move || {
            if self.film_number() == film {
                self.fail(ClipFault::CameraLost);
            }
        };
        if self.reel().record(Box::new(lost)) {
            self.stage.set(Stage::Recording);
        } else {
            self.fail(ClipFault::NoCamera);
        }
    }

    /// Ends filming and opens what was filmed.
    pub fn stop(self) {
        let opening = self.reel().stop();
        self.await_film(opening);
    }

    /// Steps by frames, forward or back.
    pub fn step(self, frames: i32) {
        self.push(Job::Frames(frames));
    }

    /// Goes to a time of the film, microseconds.
    pub fn go_to(self, micros: u64) {
        self.push(Job::To(micros));
    }

    /// Moves by a time, microseconds.
    pub fn go_by(self, micros: i64) {
        let now = self.now.get_untracked().unwrap_or(0);
        let Stage::Open(duration) = self.stage.get_untracked() else {
            return;
        };
        self.push(Job::To(now.saturating_add_signed(micros).min(duration)));
    }

    /// Shows a frame seen before and takes it for an instant.
    pub fn choose_frame(self, instant: Instant, frame: u64) {
        self.push(Job::Frame(frame));
        self.push(Job::Choose(instant));
    }

    /// Takes the frame shown for an instant.
    pub fn choose(self, instant: Instant) {
        self.push(Job::Choose(instant));
    }

    /// Shows a chosen frame.
    pub fn show(self, frame: u64) {
        self.push(Job::Frame(frame));
    }

    /// The time in the air, once both frames are chosen and the speed is said.
    pub fn airtime(self) -> Option<Result<Airtime, FrameFault>> {
        let (take_off, landing) = (self.take_off.get()?, self.landing.get()?);
        let speed = self.speed.get()?;
        let instants = Instants {
            before_take_off: take_off.before,
            take_off: take_off.frame,
            before_landing: landing.before,
            landing: landing.frame,
        };
        let gaps = self.held.with_value(|held| held.map.gaps());
        let found = airtime(instants, &gaps, speed);
        if !self.by_looking.get() {
            return Some(found);
        }
        let film = instants.landing.saturating_sub(instants.take_off);
        Some(found.map(|air| air.found_by_looking(&gaps, film)))
    }

    fn push(self, job: Job) {
        if !matches!(self.stage.get_untracked(), Stage::Open(_)) {
            return;
        }
        self.held.update_value(|held| {
            if held.jobs.len() < JOBS_MAX {
                held.jobs.push_back(job);
            }
        });
        if self.busy.get_untracked() {
            return;
        }
        self.busy.set(true);
        let film = self.film_number();
        self.spawn(Box::pin(async move {
            while let Some(job) = self.next_job(film) {
                self.work(job, film).await;
            }
            if self.film_number() == film {
                self.busy.set(false);
            }
        }));
    }

    /// The next job of a film; none when it is done or another film is open.
    fn next_job(self, film: u32) -> Option<Job> {
        let mut next = None;
        self.held.update_value(|held| {
            if held.film == film {
                next = held.jobs.pop_front();
            }
        });
        next
    }

    async fn work(self, job: Job, film: u32) -> Option<()> {
        self.at_end.set(false);
        match job {
            Job::To(micros) => self.land(micros, film).await,
            Job::Frame(frame) => self.land_on(frame, film).await,
            Job::Frames(frames) => {
                let mut at = self.now.get_untracked()?;
                for _ in 0..frames.unsigned_abs() {
                    match self.neighbour(at, frames > 0, film).await {
                        Some(next) => at = next,
                        None => self.at_end.set(true),
                    }
                }
                self.land_on(at, film).await
            }
            Job::Choose(instant) => self.take(instant, film).await,
        }
    }

    /// Shows the film at a time and notes the frame.
    async fn land(self, micros: u64, film: u32) -> Option<()> {
        let shown = self.look(micros, film).await?;
        self.now.set(Some(shown));
        Some(())
    }

    /// Shows a known frame.
    async fn land_on(self, frame: u64, film: u32) -> Option<()> {
        self.land(self.time_of(frame), film).await
    }

    fn time_of(self, frame: u64) -> u64 {
        self.held.with_value(|held| held.map.time_of(frame))
    }

    /// Shows the film at a time and tells the time stamp of the frame shown.
    async fn look(self, micros: u64, film: u32) -> Option<u64> {
        let shown = match self.glance(micros, film).await? {
            Shown::Stamp(stamp) => stamp,
            Shown::Picture(picture) => {
                self.by_looking.set(true);
                self.beginning(micros, picture, film).await?
            }
        };
        self.held.update_value(|held| held.map.note(shown, micros));
        Some(shown)
    }

    async fn glance(self, micros: u64, film: u32) -> Option<Shown> {
        for _ in 0..TRIES {
            if self.film_number() != film {
                return None;
            }
            let shown = self.reel().look(micros).await;
            if shown.is_some() && self.film_number() == film {
                return shown;
            }
        }
        None
    }

    /// The beginning of the frame with the picture shown at a time, which is shown again at the end.
    async fn beginning(self, micros: u64, picture: u64, film: u32) -> Option<u64> {
        let mut search = Pictures::search(micros);
        let mut picture = picture;
        let mut is_away = false;
        loop {
            let mut then = Found::Begins(micros);
            self.held.update_value(|held| {
                then = match held.pictures.known(micros).filter(|_| !is_away) {
                    Some(first) => Found::Begins(first),
                    None => held.pictures.looked(search, picture),
                };
            });
            match then {
                Found::Again(next) => search = next,
                Found::Begins(first) if is_away => {
                    self.glance(micros, film).await?;
                    return Some(first);
                }
                Found::Begins(first) => return Some(first),
            }
            is_away = true;
            match self.glance(search.target_micros(), film).await? {
                Shown::Picture(next) => picture = next,
                Shown::Stamp(stamp) => return Some(stamp),
            }
        }
    }

    /// The frame next to another one; none at an end of the film.
    async fn neighbour(self, from: u64, forward: bool, film: u32) -> Option<u64> {
        let known = self.held.with_value(|held| held.map.known(from, forward));
        if known.is_some() {
            return known;
        }
        let mut step = self.held.with_value(|held| held.map.step(from, forward));
        loop {
            let shown = self.look(step.target_micros(), film).await?;
            let mut then = Look::End;
            self.held.update_value(|held| then = held.map.looked(step, shown));
            match then {
                Look::Again(next) => step = next,
                Look::Found(frame) => return Some(frame),
                Look::End => return None,
            }
        }
    }

    /// Takes the frame shown for an instant, and pictures its neighbours.
    async fn take(self, instant: Instant, film: u32) -> Option<()> {
        let frame = self.now.get_untracked()?;
        let mut strip = VecDeque::from([frame]);
        for _ in 0..AROUND {
            let (Some(first), Some(last)) = (strip.front().copied(), strip.back().copied()) else {
                break;
            };
            if let Some(before) = self.neighbour(first, false, film).await {
                strip.push_front(before);
            }
            if let Some(after) = self.neighbour(last, true, film).await {
                strip.push_back(after);
            }
        }
        let Some(before) = self.held.with_value(|held| held.map.known(frame, false)) else {
            // The film begins here: nobody knows how long ago the foot left.
            self.at_end.set(true);
            return self.land_on(frame, film).await;
        };
        let strip: Vec<u64> = strip.into();
        let chosen = Chosen { frame, before, strip: strip.clone() };
        match instant {
            Instant::TakeOff => self.take_off.set(Some(chosen)),
            Instant::Landing => self.landing.set(Some(chosen)),
        }
        for (at, near) in strip.into_iter().enumerate() {
            self.look(self.time_of(near), film).await?;
            self.reel().snap(instant.canvas(at), self.closer.get_untracked());
        }
        self.land_on(frame, film).await
    }
}
