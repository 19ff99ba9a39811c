//! Backup, restore and the looks.

use std::collections::BTreeSet;
use std::sync::Arc;

use leptos::prelude::*;

use two_marks::history::{
    BACKUP_BYTES_MAX, Backup, BackupProblem, Conflict, Id, JournalEntry, Preview, SaveError,
    SumCheck, read_backup, write_backup,
};

use super::{App, FileText, Look, Notice, Shared};

/// What became of the file a person picked.
#[derive(Clone, Debug)]
pub enum Picked {
    /// Larger than a backup may be.
    TooLarge,
    /// Not a backup of this page.
    NotABackup,
    /// Written by a later version of this page.
    Newer,
    /// What restoring it would do.
    Preview {
        /// The lists.
        preview: Box<Preview>,
        /// What was edited in both places.
        conflicts: Vec<Conflict>,
        /// Whether its sum fits.
        sum: SumCheck,
        /// Records in it that cannot be read.
        unreadable: usize,
        /// What was thrown away here and is to come back; nothing at first.
        brought_back: ArcRwSignal<BTreeSet<Id>>,
        /// The file itself.
        backup: Arc<Backup>,
    },
    /// It was restored, and the journal has it on the disk.
    Restored,
    /// It is in the store of record, and not known to be on the disk.
    RestoredUnsure,
    /// Restoring failed.
    NotRestored,
}

impl App {
    /// Gives the person a backup file.
    pub fn save_backup(self) -> bool {
        let Some((name, file)) = self.backup_file() else {
            return false;
        };
        let taken = (self.ports().download)(&format!("{name}.json"), "application/json", &file);
        if taken {
            self.note_backup();
        }
        taken
    }

    /// Hands a backup file to the device's own sheet for sharing, by a name ending in `.txt`: many
    /// devices share no other text. What came of it goes to `then`.
    pub fn share_backup(self, then: impl FnOnce(Shared) + 'static) {
        let ports = self.ports();
        let (Some(share), Some((name, file))) = (ports.share, self.backup_file()) else {
            then(Shared::Refused);
            return;
        };
        let sharing = share(&format!("{name}.txt"), "text/plain", &file);
        (ports.spawn)(Box::pin(async move {
            let shared = sharing.await;
            if shared == Shared::Yes {
                self.note_backup();
            }
            then(shared);
        }));
    }

    /// A name without its ending, and the text.
    fn backup_file(self) -> Option<(String, String)> {
        let texts = self.with_store(|store| store.record_texts()).ok()?;
        let now = self.now();
        Some((format!("two-marks-{}", now.date()), write_backup(&texts, now.utc_ms)))
    }

    /// Looks into the file that was just picked.
    pub fn pick_backup(self, event: leptos::ev::Event) {
        let most = u32::try_from(BACKUP_BYTES_MAX).unwrap_or(u32::MAX);
        let ports = self.ports();
        let Some(text) = (ports.read_file)(event, most) else {
            return;
        };
        (ports.spawn)(Box::pin(async move {
            let picked = match text.await {
                FileText::Read(text) => self.look_into(&text),
                FileText::TooLarge => Picked::TooLarge,
                FileText::Unreadable => Picked::NotABackup,
            };
            self.picked.set(Some(picked));
        }));
    }

    fn look_into(self, text: &str) -> Picked {
        let backup = match read_backup(text) {
            Ok(backup) => backup,
            Err(BackupProblem::TooLarge | BackupProblem::TooManyRecords) => {
                return Picked::TooLarge;
            }
            Err(BackupProblem::Newer { .. }) => return Picked::Newer,
            Err(_) => return Picked::NotABackup,
        };
        match self.with_store(|store| store.plan_restore(&backup)) {
            Ok(plan) => Picked::Preview {
                preview: Box::new(plan.preview),
                conflicts: plan.conflicts,
                sum: backup.sum,
                unreadable: backup.unreadable.len() + backup.newer.len(),
                brought_back: ArcRwSignal::new(BTreeSet::new()),
                backup: Arc::new(backup),
            },
            Err(_) => Picked::NotRestored,
        }
    }

    /// Restores the file that was looked into. The journal has it first, so that an interrupted
    /// restore is completed at the next start.
    pub fn restore_picked(self) {
        let Some(Picked::Preview { backup, brought_back, .. }) = self.picked.get_untracked() else {
            return;
        };
        let ports = self.ports();
        let now = self.now().utc_ms;
        let chosen = brought_back.get_untracked();
        let plan = self.with_store(|store| store.plan_bringing_back(&backup, &chosen, now));
        let Ok(plan) = plan else {
            self.picked.set(Some(Picked::NotRestored));
            return;
        };
        let lines: Vec<JournalEntry> = plan.journal(now);
        let on_disk = (ports.journal)(lines);
        (ports.spawn)(Box::pin(async move {
            let is_on_disk = on_disk.await;
            self.alone(move || {
                let done = self.with_real_store(|store| store.carry_out(&plan));
                self.reload();
                self.restored(done.map(drop), is_on_disk);
            });
        }));
    }

    fn restored(self, done: Result<(), SaveError>, is_on_disk: bool) {
        let picked = match done {
            Ok(()) if is_on_disk => Picked::Restored,
            Ok(()) => Picked::RestoredUnsure,
            Err(_) => Picked::NotRestored,
        };
        self.picked.set(Some(picked));
        if let Err(error) = done {
            self.notice.set(Some(Notice::NotSaved(error)));
        }
    }

    /// Chooses how the page looks.
    pub fn choose_look(self, look: Look) {
        self.look.set(look);
        (self.ports().set_look)(look);
    }
}
