use crate::ui::prelude::*;

/// A table that scrolls by itself on a narrow screen. A heading comes with whether its column holds
/// numbers; `class` is for a table that looks apart.
pub fn data_table(
    caption: String,
    heads: Vec<(String, bool)>,
    rows: impl IntoTree,
    class: Option<&'static str>,
) -> Tree {
    let heads: Vec<_> = heads
        .into_iter()
        .map(|(name, is_number)| {
            let class = is_number.then_some("num");
            view! {
                <th scope="col" class=class>
                    {name}
                </th>
            }
        })
        .collect();
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=caption.clone()>
            <table class=class>
                <caption>{caption}</caption>
                <thead>
                    <tr>{heads}</tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
    .into_tree()
}
