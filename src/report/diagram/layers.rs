//! Where the boxes of a diagram go: in layers along the direction of the edges, with few crossings and short edges.
//!
//! After the method of Sugiyama, Tagawa and Toda (IEEE Transactions on Systems, Man, and Cybernetics 11, 1981): layers by
//! longest path, edges over several layers through waypoints, order within a layer by the mean of the neighbours, in a
//! few sweeps; then places by the same means, kept apart. All steps are in a fixed order, so that the picture is too.
//! Knows sizes and edges, no texts. The first function to read is [`place`].

/// Sweeps for the order, and for the places, where a long edge takes many to become straight.
const SWEEPS: usize = 12;
const SETTLING: usize = 96;

/// Between two boxes of a layer, and what a waypoint takes.
const APART: f64 = 14.0;
const WAYPOINT: f64 = 8.0;

/// Extent of a box along the layer and across it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Extent {
    pub along: f64,
    pub across: f64,
}

/// Where everything is.
#[derive(Clone, Debug, Default)]
pub(super) struct Places {
    /// The middle of each box: along its layer, and across the layers.
    pub nodes: Vec<(f64, f64)>,
    /// The points of each edge: its two ends are on the rims of boxes, the others where it enters and leaves layers.
    pub edges: Vec<Vec<(f64, f64)>>,
    /// How much room all takes.
    pub along: f64,
    pub across: f64,
}

/// A box or a waypoint.
#[derive(Clone, Copy)]
struct Cell {
    layer: usize,
    size: f64,
    at: f64,
}

/// Places boxes of the given extents; `gap` is left between layers. Edges that close a cycle bend the layering no
/// further than there are boxes.
pub(super) fn place(extents: &[Extent], edges: &[(usize, usize)], gap: f64) -> Places {
    let layers = layer(extents.len(), edges);
    let mut cells: Vec<Cell> =
        extents.iter().zip(&layers).map(|(extent, &layer)| Cell { layer, size: extent.along, at: 0.0 }).collect();
    // Each edge as the cells that it goes through.
    let mut routes: Vec<Vec<usize>> = Vec::with_capacity(edges.len());
    for &(from, to) in edges {
        let mut route = vec![from];
        if let (Some(&first), Some(&last)) = (layers.get(from), layers.get(to)) {
            for layer in first + 1..last {
                route.push(cells.len());
                cells.push(Cell { layer, size: WAYPOINT, at: 0.0 });
            }
        }
        route.push(to);
        routes.push(route);
    }
    let mut neighbours: Vec<Vec<usize>> = vec![Vec::new(); cells.len()];
    for route in &routes {
        for pair in route.windows(2) {
            if let [a, b] = *pair {
                neighbours.get_mut(a).into_iter().for_each(|list| list.push(b));
                neighbours.get_mut(b).into_iter().for_each(|list| list.push(a));
            }
        }
    }
    let mut rows: Vec<Vec<usize>> = vec![Vec::new(); layers.iter().max().map_or(0, |last| last + 1)];
    for (at, cell) in cells.iter().enumerate() {
        rows.get_mut(cell.layer).into_iter().for_each(|row| row.push(at));
    }
    for sweep in 0..SWEEPS {
        arrange(&rows, &mut cells, |_, at| at);
        order(&mut rows, &cells, &neighbours, sweep % 2 == 0);
    }
    arrange(&rows, &mut cells, |_, at| at);
    for _ in 0..SETTLING {
        let wishes: Vec<f64> =
            (0..cells.len()).map(|at| mean(at, &cells, &neighbours).unwrap_or_else(|| place_of(&cells, at))).collect();
        arrange(&rows, &mut cells, |cell, at| wishes.get(cell).copied().unwrap_or(at).max(at));
        settle(&rows, &mut cells, &wishes);
    }
    finish(extents, &rows, &cells, &routes, gap)
}

/// Layers by the longest path to each node from one that nothing leads to.
fn layer(count: usize, edges: &[(usize, usize)]) -> Vec<usize> {
    let mut layers = vec![0; count];
    // One round an edge of the longest path is enough without cycles, and the bound ends it with them.
    for _ in 0..count {
        let mut moved = false;
        for &(from, to) in edges {
            let next = layers.get(from).map_or(0, |layer| layer + 1);
            if let Some(layer) = layers.get_mut(to).filter(|layer| **layer < next && next < count) {
                *layer = next;
                moved = true;
            }
        }
        if !moved {
            break;
        }
    }
    layers
}

fn place_of(cells: &[Cell], at: usize) -> f64 {
    cells.get(at).map_or(0.0, |cell| cell.at)
}

fn mean(at: usize, cells: &[Cell], neighbours: &[Vec<usize>]) -> Option<f64> {
    let near = neighbours.get(at).filter(|near| !near.is_empty())?;
    Some(near.iter().map(|&other| place_of(cells, other)).sum::<f64>() / near.len() as f64)
}

/// Sorts each layer by the mean place of its neighbours; forwards and backwards in turns.
fn order(rows: &mut [Vec<usize>], cells: &[Cell], neighbours: &[Vec<usize>], forwards: bool) {
    let numbers: Vec<usize> = if forwards { (0..rows.len()).collect() } else { (0..rows.len()).rev().collect() };
    let mut cells = cells.to_vec();
    for number in numbers {
        let Some(row) = rows.get_mut(number) else { continue };
        let key = |at: usize| mean(at, &cells, neighbours).unwrap_or_else(|| place_of(&cells, at));
        let mut keyed: Vec<(f64, usize)> = row.iter().map(|&at| (key(at), at)).collect();
        keyed.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        *row = keyed.into_iter().map(|(_, at)| at).collect();
        let mut along = 0.0;
        for &at in &*row {
            if let Some(cell) = cells.get_mut(at) {
                cell.at = along + cell.size / 2.0;
                along += cell.size + APART;
            }
        }
    }
}

/// Gives each cell of a layer the place that it wishes, but none before the end of the one before.
fn arrange(rows: &[Vec<usize>], cells: &mut [Cell], wish: impl Fn(usize, f64) -> f64) {
    for row in rows {
        let mut free = 0.0;
        for &at in row {
            if let Some(cell) = cells.get_mut(at) {
                cell.at = wish(at, free + cell.size / 2.0);
                free = cell.at + cell.size / 2.0 + APART;
            }
        }
    }
}

/// From the other end: what was pushed beyond its wish comes back as far as the next one lets it.
fn settle(rows: &[Vec<usize>], cells: &mut [Cell], wishes: &[f64]) {
    for row in rows {
        let mut before = f64::INFINITY;
        for (number, &at) in row.iter().enumerate().rev() {
            let floor = number.checked_sub(1).and_then(|other| row.get(other)).and_then(|&other| cells.get(other));
            let floor = floor.map_or(0.0, |other| other.at + other.size / 2.0 + APART);
            let wish = wishes.get(at).copied().unwrap_or(0.0);
            if let Some(cell) = cells.get_mut(at) {
                let half = cell.size / 2.0;
                cell.at = wish.max(floor + half).min(before - half).max(half);
                before = cell.at - half - APART;
            }
        }
    }
}

fn finish(extents: &[Extent], rows: &[Vec<usize>], cells: &[Cell], routes: &[Vec<usize>], gap: f64) -> Places {
    let mut starts: Vec<(f64, f64)> = Vec::with_capacity(rows.len());
    let mut across = 0.0;
    for row in rows {
        let deep = row.iter().filter_map(|&at| extents.get(at)).fold(0.0_f64, |deep, extent| deep.max(extent.across));
        starts.push((across, deep));
        across += deep + gap;
    }
    let first = cells.iter().map(|cell| cell.at - cell.size / 2.0).fold(f64::INFINITY, f64::min);
    let point = |at: usize| {
        let cell = cells.get(at).copied().unwrap_or(Cell { layer: 0, size: 0.0, at: 0.0 });
        let (start, deep) = starts.get(cell.layer).copied().unwrap_or_default();
        (cell.at - first, start + deep / 2.0, deep / 2.0)
    };
    // Straight within a layer, so that no box of it is crossed; what bends does so between two layers.
    let through = |route: &Vec<usize>| {
        let ends = route.first().zip(route.last()).map(|(&a, &b)| (point(a).1, point(b).1));
        let side = if ends.is_none_or(|(a, b)| a <= b) { 1.0 } else { -1.0 };
        let stop = route.len().saturating_sub(1);
        let mut points = Vec::with_capacity(route.len() * 2);
        for (number, &at) in route.iter().enumerate() {
            let (along, across, deep) = point(at);
            let half = extents.get(at).map_or(0.0, |extent| extent.across / 2.0);
            if number > 0 {
                points.push((along, across - side * deep));
            }
            if number == 0 || number == stop {
                points.push((along, if number == 0 { across + side * half } else { across - side * half }));
            }
            if number < stop {
                points.push((along, across + side * deep));
            }
        }
        // A piece without length would point nowhere.
        points.dedup_by(|a, b| (a.0 - b.0).abs() < 0.05 && (a.1 - b.1).abs() < 0.05);
        points
    };
    let edges = routes.iter().map(through).collect();
    Places {
        nodes: (0..extents.len()).map(point).map(|(along, across, _)| (along, across)).collect(),
        edges,
        along: cells.iter().map(|cell| cell.at + cell.size / 2.0 - first).fold(0.0, f64::max),
        across: (across - gap).max(0.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const BOX: Extent = Extent { along: 30.0, across: 100.0 };

    proptest! {
        #[test]
        fn boxes_never_overlap(edges in prop::collection::vec((0..12_usize, 0..12_usize), 0..40)) {
            let edges: Vec<_> = edges.into_iter().filter(|(from, to)| from != to).collect();
            let places = place(&[BOX; 12], &edges, 40.0);
            for (at, a) in places.nodes.iter().enumerate() {
                prop_assert!(a.0.is_finite() && a.1.is_finite() && a.0 >= 0.0 && a.0 <= places.along);
                for b in &places.nodes[at + 1..] {
                    let clear = (a.0 - b.0).abs() >= BOX.along - 1e-6 || (a.1 - b.1).abs() >= BOX.across - 1e-6;
                    prop_assert!(clear, "{:?} {:?}", a, b);
                }
            }
        }

        /// Without cycles every edge leads onwards.
        #[test]
        fn edges_lead_onwards(edges in prop::collection::vec((0..12_usize, 0..12_usize), 0..40)) {
            let edges: Vec<_> = edges.into_iter().filter(|(from, to)| from < to).collect();
            let places = place(&[BOX; 12], &edges, 40.0);
            for (from, to) in edges {
                prop_assert!(places.nodes[from].1 < places.nodes[to].1);
            }
        }
    }
}
