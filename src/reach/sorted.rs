//! All classes of a view by their names, from the beginning and from the end.
//!
//! The first functions to read are [`Sorted::beginning`] and [`Sorted::ending`].

use std::sync::OnceLock;

use rayon::prelude::*;

use crate::program::{ClassId, Program, View};

/// A class and the name by which the class loader finds it.
type Named<'p> = (&'p [u8], ClassId);

/// Sorted once for all who look for names.
pub struct Sorted<'p> {
    /// By name; of classes of one name in class path order.
    all: Vec<Named<'p>>,
    /// Their positions, by the end of the name; put in order when somebody first asks.
    by_end: OnceLock<Vec<u32>>,
    /// By class, its position; so too.
    places: OnceLock<Vec<u32>>,
}

impl<'p> Sorted<'p> {
    /// Puts the classes of a view in order.
    pub fn new(program: &'p Program, view: &View) -> Self {
        let all = view.classes.iter().filter_map(|&id| Some((program.names.name(program.class(id)?.path), id)));
        let mut all: Vec<_> = all.collect();
        all.par_sort_unstable();
        Sorted { all, by_end: OnceLock::new(), places: OnceLock::new() }
    }

    /// All classes whose name begins so, by name.
    pub fn beginning(&self, prefix: &[u8]) -> &[Named<'p>] {
        let from = self.all.get(self.all.partition_point(|&(name, _)| name < prefix)..).unwrap_or_default();
        from.get(..from.partition_point(|&(name, _)| name.starts_with(prefix))).unwrap_or_default()
    }

    /// All classes nested in one, by their names.
    pub fn nested_in(&self, class: ClassId) -> impl Iterator<Item = ClassId> {
        let places = self.places.get_or_init(|| {
            let classes = self.all.iter().map(|&(_, id)| id.0 as usize + 1).max().unwrap_or(0);
            let mut places = vec![u32::MAX; classes];
            for (&(_, id), at) in self.all.iter().zip(0..) {
                if let Some(place) = places.get_mut(id.0 as usize) {
                    *place = at;
                }
            }
            places
        });
        let place = places.get(class.0 as usize).map_or(usize::MAX, |&place| place as usize);
        let outer = self.all.get(place).map_or(&[][..], |&(name, _)| name);
        let behind = self.all.get(place..).unwrap_or_default().iter();
        // The few names between a class and those nested in it are of classes of the same name, or end in odd signs.
        let rests = behind.map_while(move |&(name, id)| Some((name.strip_prefix(outer)?, id)));
        let rests = rests.take_while(|(rest, _)| rest.first().is_none_or(|&next| next <= b'$'));
        rests.filter(|(rest, _)| rest.starts_with(b"$")).map(|(_, id)| id)
    }

    /// All classes whose name ends so, by the name read backwards.
    pub fn ending(&self, suffix: &[u8]) -> impl Iterator<Item = Named<'p>> {
        let by_end = self.by_end.get_or_init(|| {
            // Reading names backwards byte by byte takes long; their last eight bytes tell most of them apart.
            let keyed = self.all.iter().zip(0_u32..).map(|(&(name, _), at)| (last_bytes(name), name, at));
            let mut keyed: Vec<_> = keyed.collect();
            keyed.par_sort_unstable_by(|(one_end, one, one_at), (other_end, other, other_at)| {
                let ends = one_end.cmp(other_end);
                ends.then_with(|| one.iter().rev().cmp(other.iter().rev())).then_with(|| one_at.cmp(other_at))
            });
            keyed.into_iter().map(|(.., at)| at).collect()
        });
        let class = |&at: &u32| self.all.get(at as usize).copied().unwrap_or((&[], ClassId(0)));
        let first = by_end.partition_point(|at| class(at).0.iter().rev().lt(suffix.iter().rev()));
        let from = by_end.get(first..).unwrap_or_default();
        from.iter().map(class).take_while(move |(name, _)| name.ends_with(suffix))
    }
}

/// The last eight bytes of a name, the last one first: they are in order as the names read backwards are.
fn last_bytes(name: &[u8]) -> u64 {
    name.iter().rev().take(8).zip((0..8).rev()).fold(0, |key, (&byte, place)| key | u64::from(byte) << (8 * place))
}

#[cfg(test)]
mod tests {
    use super::last_bytes;

    #[test]
    fn last_bytes_are_in_the_order_of_names_read_backwards() {
        let names: [&[u8]; 8] =
            [b"", b"a", b"gauge/Tide", b"gauge/Ride", b"Tide", b"e", b"sluice/Gate", b"harbour/sluice/Gate"];
        for one in names {
            for other in names {
                let backwards = one.iter().rev().cmp(other.iter().rev());
                assert!(last_bytes(one).cmp(&last_bytes(other)).then(backwards) == backwards, "{one:?} {other:?}");
            }
        }
    }
}
