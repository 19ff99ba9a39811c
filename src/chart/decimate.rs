use crate::quantity::Length;

/// The indexes of at most `most` points that keep the shape of a long row: the first, the last, and
/// the lowest and highest of every stretch, in order.
///
/// `most` below 4 counts as 4. A row that is short enough is kept whole.
pub fn decimated(heights: &[Length], most: usize) -> Vec<usize> {
    let count = heights.len();
    let most = most.max(4);
    if count <= most {
        return (0..count).collect();
    }
    // The first and the last take two places, every stretch takes two more at most.
    let stretches = (most - 2) / 2;
    let mut kept = vec![0, count - 1];
    for stretch in 0..stretches {
        let from = stretch * count / stretches;
        let to = (stretch + 1) * count / stretches;
        let part = || heights.iter().enumerate().take(to).skip(from);
        kept.extend(part().min_by_key(|(_, height)| **height).map(|(index, _)| index));
        kept.extend(part().max_by_key(|(_, height)| **height).map(|(index, _)| index));
    }
    kept.sort_unstable();
    kept.dedup();
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_short_row_is_kept() {
        assert_eq!(decimated(&[Length::ZERO; 5], 5), [0, 1, 2, 3, 4]);
        assert!(decimated(&[], 500).is_empty());
    }

    proptest! {
        #[test]
        fn ends_and_extremes_stay(mm in proptest::collection::vec(0i64..900, 1..2_000), most in 4usize..600) {
            let heights: Vec<Length> = mm.iter().map(|mm| Length::from_mm(*mm)).collect();
            let kept = decimated(&heights, most);
            prop_assert!(kept.len() <= most.max(heights.len().min(most)));
            prop_assert!(kept.windows(2).all(|pair| pair[0] < pair[1]));
            prop_assert_eq!(kept.first(), Some(&0));
            prop_assert_eq!(kept.last().copied(), Some(heights.len() - 1));
            let height = |index: &usize| heights[*index];
            prop_assert_eq!(kept.iter().map(height).max(), heights.iter().copied().max());
            prop_assert_eq!(kept.iter().map(height).min(), heights.iter().copied().min());
        }
    }
}
