//! Where the part of one class or method lies in a list that holds the parts of all.

/// A part of a list; what it is of is for whoever holds it to know.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Stretch {
    pub first: u32,
    pub count: u32,
}

impl Stretch {
    /// The last so many items of a list.
    pub fn end_of<T>(list: &[T], count: usize) -> Self {
        Stretch { first: (list.len() - count) as u32, count: count as u32 }
    }

    /// The same part, once its list has been added to the end of one with that many items.
    pub fn behind(self, items: usize) -> Self {
        Stretch { first: self.first + items as u32, ..self }
    }

    /// Its items; none where the list is another one.
    pub fn of<T>(self, list: &[T]) -> &[T] {
        list.get(self.range()).unwrap_or_default()
    }

    /// Their positions.
    pub fn range(self) -> std::ops::Range<usize> {
        self.first as usize..self.first as usize + self.count as usize
    }
}
