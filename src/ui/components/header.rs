use crate::ui::prelude::*;

use super::{Icon, icon};

/// What the head of a step shows.
pub struct StepHeader {
    /// The page's name.
    pub title: String,
    /// "Step 4 of 5".
    pub count: String,
    /// Name of the list of steps, for readers.
    pub steps_label: String,
    /// Names of all steps, in order.
    pub steps: Vec<String>,
    /// Which of them is now, from 0.
    pub now: usize,
    /// What readers hear for a step that is done, by step.
    pub done: Vec<String>,
    /// "Back".
    pub back: String,
    /// Where back leads.
    pub back_to: String,
    /// The person's name, and what readers hear for the label.
    pub person: (String, String),
    /// Where the person's label leads.
    pub person_to: String,
}

/// The head of a step: back, title, person, and the tape pulled out as far as the test has come.
pub fn step_header(head: StepHeader) -> Tree {
    let now = head.now;
    let steps = head.steps.into_iter().zip(head.done).enumerate().map(|(at, (name, done))| {
        let class = if at < now {
            "done"
        } else if at == now {
            "now"
        } else {
            ""
        };
        let words = if at < now { done } else { name };
        let current = (at == now).then_some("step");
        view! {
            <li class=class aria-current=current>
                <span class="hidden-words">{words}</span>
            </li>
        }
    });
    let steps: Vec<_> = steps.collect();
    let (person, person_label) = head.person;
    view! {
        <header class="step">
            <div class="step__row">
                <a class="back" href=head.back_to aria-label=head.back>
                    {icon(Icon::Back)}
                </a>
                <h1 id="title" tabindex="-1">
                    <span class="step__count">{head.count}</span>
                    {head.title}
                </h1>
                <a class="chip" href=head.person_to aria-label=person_label>
                    {person}
                </a>
            </div>
            <ol class="step__tape" aria-label=head.steps_label>
                {steps}
            </ol>
        </header>
    }
    .into_tree()
}

/// The head of a page that is no step: back and title.
pub fn page_header(title: String, back: String, back_to: String) -> Tree {
    view! {
        <header class="step">
            <div class="step__row">
                <a class="back" href=back_to aria-label=back>
                    {icon(Icon::Back)}
                </a>
                <h1 id="title" tabindex="-1">
                    {title}
                </h1>
            </div>
        </header>
    }
    .into_tree()
}
