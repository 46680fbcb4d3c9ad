//! Parts laid over each other: what a whole costs at least where its pairs are shared out among parts of it.
//!
//! Every part may be counted some times, and no pair of slots in more than so many of all that are counted: then what the
//! parts cost at least, so often as they are counted, divided by that number, is no more than what the whole costs. Which
//! parts are counted how often is a linear program; it is solved nearly, by counting time and again the part that costs most
//! for the pairs it takes, and making the pairs that are taken dearer (Garg and Könemann 1998, from memory). The result is a
//! bound whatever the counts are.

/// How often a part is counted, all in all.
const ROUNDS: usize = 1_500;
/// By how much a pair becomes dearer each time.
const DEARER: f64 = 1.04;

/// What all `slots` cost at least, given what each of these parts costs at least.
pub(super) fn pack(parts: &[(usize, i64)], slots: usize) -> i64 {
    let pairs_of = |part: usize| {
        let has = move |s: &usize| part >> s & 1 == 1;
        (0..slots).filter(has).flat_map(move |s| (s + 1..slots).filter(has).map(move |r| s * slots + r))
    };
    let mut each: Vec<(Vec<usize>, i64)> =
        parts.iter().filter(|(_, least)| *least > 0).map(|&(part, least)| (pairs_of(part).collect(), least)).collect();
    let mut price = vec![1.0_f64; slots * slots];
    let mut taken = vec![0_i64; slots * slots];
    let mut sum = 0;
    for _ in 0..ROUNDS {
        let worth = |(pairs, least): &(Vec<usize>, i64)| *least as f64 / pairs.iter().map(|&p| price[p]).sum::<f64>();
        let Some((pairs, least)) = each.iter().max_by(|x, y| worth(x).total_cmp(&worth(y))) else { return 0 };
        sum += least;
        for &p in pairs {
            taken[p] += 1;
            price[p] *= DEARER;
        }
    }
    // Where no pair of a part is taken as often as the most, it may be counted some times more; those first that cost most a
    // pair.
    let most = taken.iter().copied().max().unwrap_or(1).max(1);
    each.sort_by(|x, y| (y.1 * x.0.len() as i64).cmp(&(x.1 * y.0.len() as i64)));
    for (pairs, least) in &each {
        let more = most - pairs.iter().map(|&p| taken[p]).max().unwrap_or(most);
        sum += least * more;
        pairs.iter().for_each(|&p| taken[p] += more);
    }
    sum / most
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn threes_of_equal_cost_share_out_the_pairs_of_the_whole() {
        // Of five slots every pair costs 2: a three costs 6, the whole 20.
        let threes: Vec<(usize, i64)> = (0..32_usize).filter(|p| p.count_ones() == 3).map(|p| (p, 6)).collect();
        let found = pack(&threes, 5);
        assert!((19..=20).contains(&found), "{found}");
        // Parts that share no pair add up; of two that share one only the dearer counts, nearly.
        assert_eq!(pack(&[(0b00111, 9), (0b11001, 4)], 5), 13);
        let found = pack(&[(0b00111, 900), (0b01011, 400)], 5);
        assert!((890..=900).contains(&found), "{found}");
        assert_eq!(pack(&[], 5), 0);
    }
}
