//! Work shared out over the cores, its results in their order: the same as done one after the other, only sooner.

/// Does the same to each of many; with fewer than `least` for each core it is done by fewer of them.
///
/// # Panics
/// Where one of them does: its panic goes on here.
pub fn on_every_core<T: Sync, R: Send>(all: &[T], least: usize, each: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let share = all.len().div_ceil(cores).max(least).max(1);
    let do_share = |share: &[T]| share.iter().map(&each).collect::<Vec<R>>();
    if share >= all.len() {
        return do_share(all);
    }
    std::thread::scope(|scope| {
        let mut shares = all.chunks(share);
        let first = shares.next().unwrap_or_default();
        let others: Vec<_> = shares.map(|share| scope.spawn(|| do_share(share))).collect();
        let mut done = do_share(first);
        for other in others {
            match other.join() {
                Ok(results) => done.extend(results),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        done
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_come_in_order_however_many_there_are() {
        for count in [0, 1, 2, 3, 7, 100, 1_001] {
            for least in [0, 1, 5, 2_000] {
                let all: Vec<usize> = (0..count).collect();
                let twice: Vec<usize> = all.iter().map(|n| n * 2).collect();
                assert_eq!(on_every_core(&all, least, |n| n * 2), twice);
            }
        }
    }

    #[test]
    #[should_panic(expected = "the seventh")]
    fn a_panic_of_one_goes_on() {
        on_every_core(&[1, 2, 3, 4, 5, 6, 7, 8], 1, |n| assert_ne!(*n, 7, "the seventh"));
    }
}
