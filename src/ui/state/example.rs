//! The invented family: a store in memory put in place of the real one, which is not touched.

use std::rc::Rc;

use leptos::prelude::*;

use two_marks::history::{ExampleWords, Memory, SaveError, Store, example};
use two_marks::share::Route;

use super::app::Held;
use super::{App, Keeping, Ports, Shelf};

impl App {
    /// Shows the invented family. The real store, the journal and the draft of a test in progress
    /// stay as they are until [`App::end_example`].
    pub fn begin_example(self) {
        if self.example.get_untracked() {
            return;
        }
        self.keep_draft_for_long();
        let shelf = Shelf(Rc::new(Memory::new()));
        let Ok(store) = self.filled(shelf.clone()) else {
            return;
        };
        let ports = Ports {
            shelf,
            draft: Shelf(Rc::new(Memory::new())),
            journal: Rc::new(|_| Box::pin(async { false })),
            ask_to_keep: || Box::pin(async { Keeping::Unknown }),
            ..self.ports()
        };
        self.held.update_value(|held| {
            let shown = Held { ports, store, draft_id: None, one_line: None, real: None };
            let real = std::mem::replace(held, shown);
            held.real = Some(Box::new(real));
        });
        self.example.set(true);
        self.set_out_anew();
        self.go(&Route::Home);
    }

    /// Throws the invented family away and shows the person's own again.
    pub fn end_example(self) {
        if !self.example.get_untracked() {
            return;
        }
        self.held.update_value(|held| {
            if let Some(real) = held.real.take() {
                *held = *real;
            }
        });
        self.example.set(false);
        self.set_out_anew();
        self.pick_up_draft();
        self.go(&Route::Home);
    }

    fn filled(self, shelf: Shelf) -> Result<Store<Shelf>, SaveError> {
        let words = self.words.get_untracked();
        let records = example(
            ExampleWords {
                younger: &words.example_younger(),
                older: &words.example_older(),
                practice_began: &words.example_practice_began(),
                after_break: &words.example_after_break(),
            },
            self.now(),
        );
        let (store, _) = Store::open(shelf)?;
        store.keep_all(&records)?;
        Ok(store)
    }

    /// Nothing of the one store is left on the page when the other one is shown.
    fn set_out_anew(self) {
        self.progress.set(None);
        self.answers.set(Default::default());
        self.reset_entry();
        self.notice.set(None);
        self.deleted.set(None);
        self.picked.set(None);
        self.sheet.set(None);
        self.person_key.set(None);
        self.reload();
    }
}
