use crate::ui::prelude::*;

use two_marks::card::{Card, CardFields, write_card};
use two_marks::chart::qr_drawing;
use two_marks::share::Route;

use super::card::told;
use super::class::share_row;
use super::common::plain_head;
use super::picture::ticks;
use crate::ui::components::{act_link, floor, qr_panel};
use crate::ui::state::App;

/// One saved test as a card: a link and a QR code with what is ticked.
pub fn page(app: App, id: String) -> Tree {
    let words = app.w();
    let back = Route::Result(id.clone());
    let test = app.test(&id);
    let first = test.as_ref().and_then(|test| {
        let assessed = app.assess(test);
        let card = Card::of(test, &assessed, "", CardFields::default())?;
        write_card(&card).map(|_| assessed)
    });
    let Some((test, assessed)) = test.zip(first) else {
        return view! {
            {plain_head(app, words.card_share_title(), &back)}
            <main id="main" tabindex="-1" class="pad">
                <p>{words.card_none()}</p>
            </main>
            {floor(act_link(words.go_home(), Route::Home.to_string()))}
        }
        .into_tree();
    };
    let name = app.people.with_untracked(|people| {
        people.iter().find(|person| person.local == test.person).map(|who| who.nickname.clone())
    });
    let ticked = RwSignal::new([false; 6]);
    let boxes = vec![
        ("nickname", words.picture_nickname(), name.is_some()),
        ("date", words.picture_date(), true),
        ("usual", words.picture_usual(), assessed.usual.is_some()),
        ("reach", words.picture_season_reach(), test.session.standing_reach().is_some()),
        ("age", words.card_age(), assessed.age.group().is_some()),
        ("notes", words.card_notes(), assessed.is_tired || !assessed.rough.is_empty()),
    ];
    let card = Memo::new(move |_| {
        let [nickname, date, usual, reach, age, notes] = ticked.get();
        let fields = CardFields { name: nickname, date, usual, reach, age, notes };
        Card::of(&test, &assessed, name.as_deref().unwrap_or_default(), fields)
    });
    view! {
        {plain_head(app, words.card_share_title(), &back)}
        <main id="main" tabindex="-1" class="pad stack-wide pictures">
            <div class="stack-wide">
                <p>{words.card_share_intro()}</p>
                <fieldset class="checks">
                    <legend class="label">{words.picture_fields()}</legend>
                    {ticks(boxes, ticked)}
                </fieldset>
                <p class="soft">{words.picture_plain()}</p>
            </div>
            <div class="stack-wide">{move || card.get().map(|card| made(app, &card))}</div>
        </main>
        {floor(act_link(words.result_title(), back.to_string()))}
    }
    .into_tree()
}

/// What the link shows, the code, and the ways to hand it on.
fn made(app: App, card: &Card) -> Option<Tree> {
    let words = app.w();
    let code = write_card(card)?;
    let base = format!("{}#/card/", (app.ports().address)());
    let qr = qr_drawing(&base, &code);
    let link = format!("{base}{code}");
    Some(
        view! {
            <section class="stack">
                <h2>{words.card_seen()}</h2>
                {told(&words, card)}
            </section>
            {qr_panel("qr qr--slip", qr, words.card_qr())}
            <div class="stack">
                <p class="small link-text">{link.clone()}</p>
                {share_row(app, link, false)}
                <p class="small soft">{words.class_link_note()}</p>
                <p class="small soft">{words.card_forever()}</p>
            </div>
        }
        .into_tree(),
    )
}
