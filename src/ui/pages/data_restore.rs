use std::collections::BTreeSet;

use leptos::prelude::ArcRwSignal;

use crate::ui::prelude::*;

use two_marks::history::{Conflict, Id, Preview, Purged, SumCheck};

use crate::ui::components::{Icon, alert, button, check_row, file_button, notice};
use crate::ui::state::{App, Picked};

/// Conflicts shown one by one; the rest is counted above them.
const CONFLICTS_SHOWN: usize = 20;

/// A backup file, looked into before anything is written.
pub fn section(app: App) -> Tree {
    let words = app.w();
    view! {
        <section class="stack">
            <h2 id="restore">{words.data_restore()}</h2>
            <p class="soft">{words.data_restore_note()}</p>
            {file_button(
                "restore-file",
                words.data_restore_open(),
                ".json,application/json,.txt,text/plain",
                None,
                move |event| app.pick_backup(event),
            )}
            <div class="stack" role="status">
                {move || picked(app)}
            </div>
        </section>
    }
    .into_tree()
}

fn picked(app: App) -> Tree {
    let words = app.w();
    match app.picked.get() {
        None => Tree::Nothing,
        Some(Picked::TooLarge) => alert(words.data_too_large()),
        Some(Picked::NotABackup) => alert(words.data_not_a_backup()),
        Some(Picked::Newer) => alert(words.data_newer()),
        Some(Picked::Restored) => notice(Icon::Tick, words.data_restored()),
        Some(Picked::RestoredUnsure) => notice(Icon::Info, words.saved_unsure()),
        Some(Picked::NotRestored) => alert(words.data_not_restored()),
        Some(Picked::Preview { preview, conflicts, sum, unreadable, brought_back, .. }) => {
            let offers = offers(app, &preview.purged_here, &brought_back);
            preview_of(app, &preview, &conflicts, sum, unreadable, offers)
        }
    }
}

/// One question for each thing that was thrown away here, answered "no" until ticked.
fn offers(app: App, purged: &[Purged], chosen: &ArcRwSignal<BTreeSet<Id>>) -> Vec<Tree> {
    let offset_minutes = app.now().offset_minutes;
    let question = |offer: &Purged| {
        let id = offer.record.id();
        let (shown, told) = (chosen.clone(), chosen.clone());
        check_row(
            &format!("bring-back-{id}"),
            app.w().bring_back(offer, offset_minutes),
            Signal::derive(move || shown.with(|chosen| chosen.contains(&id))),
            move |on| {
                told.update(|chosen| {
                    if on {
                        chosen.insert(id)
                    } else {
                        chosen.remove(&id)
                    };
                });
            },
        )
    };
    purged.iter().map(question).collect()
}

fn preview_of(
    app: App,
    preview: &Preview,
    conflicts: &[Conflict],
    sum: SumCheck,
    unreadable: usize,
    offers: Vec<Tree>,
) -> Tree {
    let words = app.w();
    let count = |many: usize| u32::try_from(many).unwrap_or(u32::MAX);
    let sum = match sum {
        SumCheck::Right => None,
        SumCheck::Missing => Some(notice(Icon::Info, words.data_sum_missing())),
        SumCheck::Wrong => Some(alert(words.data_sum_wrong())),
    };
    let deleted = preview.deleted_there.len();
    let purged = preview.purged_there.len();
    let stays = preview.stays_purged.len();
    let lines = [
        (preview.added.len(), words.data_preview_new(count(preview.added.len()))),
        (preview.newer.len(), words.data_preview_newer(count(preview.newer.len()))),
        (preview.older.len(), words.data_preview_older(count(preview.older.len()))),
        (preview.same.len(), words.data_preview_same(count(preview.same.len()))),
        (preview.conflicts.len(), words.data_preview_conflicts(count(preview.conflicts.len()))),
        (preview.deleted_here.len(), words.data_preview_in_bin(count(preview.deleted_here.len()))),
        (deleted, words.data_preview_deleted(count(deleted))),
        (purged, words.data_preview_purged(count(purged))),
        (stays, words.data_preview_stays_purged(count(stays))),
        (unreadable, words.data_preview_unreadable(count(unreadable))),
    ];
    let lines: Vec<_> = lines
        .into_iter()
        .filter(|(many, _)| *many > 0)
        .map(|(_, line)| view! { <li>{line}</li> })
        .collect();
    let offset_minutes = app.now().offset_minutes;
    let conflicts: Vec<_> = conflicts
        .iter()
        .take(CONFLICTS_SHOWN)
        .map(|conflict| {
            let said = words.conflict(conflict, offset_minutes);
            view! {
                <li>
                    <strong>{said.title}</strong>
                    <p>{said.here}</p>
                    <p>{said.there}</p>
                    <p>{said.counts}</p>
                </li>
            }
        })
        .collect();
    view! {
        {sum}
        <ul class="dots">{lines}</ul>
        <ul class="dots" id="conflicts">{conflicts}</ul>
        {offers}
        <div class="row">
            {button(words.data_restore_do(), move || app.restore_picked())}
            {button(words.not_now(), move || app.picked.set(None))}
        </div>
    }
    .into_tree()
}
