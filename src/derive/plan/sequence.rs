//! The order of tasks, and the circles in it.

use std::cmp::Reverse;
use std::collections::{BTreeSet, BinaryHeap};

use super::task::{Stage, Task};

/// The places of tasks in the order in which they are to be done, and the circles in which others wait for each other.
///
/// Of the tasks that may be done next the one of the earliest stage comes first, and of several that which stands
/// first. An order that is only usual gives way where it cannot be kept; one that is needed never does.
///
/// # Source
/// Kahn, A. B. (1962), Topological sorting of large networks, Communications of the ACM 5 (11): the way is his, from
/// memory; the stages are common practice, no source.
pub(super) fn sequence(tasks: &[Task]) -> (Vec<usize>, Vec<Vec<usize>>) {
    let mut needed = vec![0_usize; tasks.len()];
    let mut usual = vec![0_usize; tasks.len()];
    let mut next: Vec<Vec<(usize, bool)>> = vec![Vec::new(); tasks.len()];
    for (at, task) in tasks.iter().enumerate() {
        for (before, why) in &task.after {
            let waiting = if why.is_soft() { &mut usual } else { &mut needed };
            waiting[at] += 1;
            next[*before].push((at, why.is_soft()));
        }
    }
    let rank = |at: usize| Reverse((tasks[at].stage, at));
    let mut ready: BinaryHeap<Reverse<(Stage, usize)>> = BinaryHeap::new();
    // Those that wait for nothing but what is usual.
    let mut could: BTreeSet<(Stage, usize)> = BTreeSet::new();
    for at in 0..tasks.len() {
        match (needed[at], usual[at]) {
            (0, 0) => ready.push(rank(at)),
            (0, _) => {
                could.insert((tasks[at].stage, at));
            }
            _ => {}
        }
    }
    let mut order = Vec::with_capacity(tasks.len());
    let mut done = vec![false; tasks.len()];
    while let Some(at) =
        ready.pop().map(|Reverse((_, at))| at).or_else(|| could.pop_first().map(|(_, at)| at))
    {
        order.push(at);
        done[at] = true;
        for (later, soft) in &next[at] {
            let waiting = if *soft { &mut usual } else { &mut needed };
            waiting[*later] -= 1;
            // What went ahead of what is usual is done already.
            if done[*later] || needed[*later] > 0 {
                continue;
            }
            let place = (tasks[*later].stage, *later);
            if usual[*later] == 0 {
                could.remove(&place);
                ready.push(rank(*later));
            } else {
                could.insert(place);
            }
        }
    }
    let left: BTreeSet<usize> = (0..tasks.len()).filter(|at| !done[*at]).collect();
    (order, circles(tasks, left))
}

/// The circles among tasks of which none can be done; those that only wait for a circle are in none.
fn circles(tasks: &[Task], mut left: BTreeSet<usize>) -> Vec<Vec<usize>> {
    let before = |at: usize, left: &BTreeSet<usize>| {
        let needed = tasks[at].after.iter().filter(|(_, why)| !why.is_soft());
        needed.map(|(before, _)| *before).find(|before| left.contains(before))
    };
    let mut circles = Vec::new();
    while let Some(first) = left.first().copied() {
        // Going back from any of them ends in a circle, or where nothing is left to wait for.
        let mut way: Vec<usize> = Vec::new();
        let mut at = Some(first);
        while let Some(here) = at {
            if let Some(begin) = way.iter().position(|passed| *passed == here) {
                let mut circle = way.split_off(begin);
                circle.reverse();
                circles.push(circle.clone());
                way.extend(circle);
                break;
            }
            way.push(here);
            at = before(here, &left);
        }
        way.iter().for_each(|passed| {
            left.remove(passed);
        });
    }
    circles
}
