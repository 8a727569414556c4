//! The places of a method at which control may arrive otherwise than from the instruction before.

/// Places in a method's code, one bit for each byte of it; the memory is used again.
#[derive(Debug, Default)]
pub struct Leaders(Vec<u64>);

impl Leaders {
    /// Forgets the method before and makes room for code of that many bytes.
    pub fn begin(&mut self, length: usize) {
        self.0.clear();
        self.0.resize(length.div_ceil(64), 0);
    }

    /// Adds a place; one behind the code is passed over.
    pub fn add(&mut self, pc: u32) {
        if let Some(word) = self.0.get_mut(pc as usize / 64) {
            *word |= 1 << (pc % 64);
        }
    }

    /// Whether a place is one.
    pub fn contains(&self, pc: u32) -> bool {
        self.0.get(pc as usize / 64).is_some_and(|word| word & 1 << (pc % 64) != 0)
    }

    /// The last one at or before a place.
    pub fn last_upto(&self, pc: u32) -> Option<u32> {
        let last = pc as usize / 64;
        let upto = self.0.get(..=last)?;
        let masked = |at: usize, word: u64| if at == last { word & (u64::MAX >> (63 - pc % 64)) } else { word };
        let (at, word) =
            upto.iter().enumerate().rev().map(|(at, &word)| (at, masked(at, word))).find(|&(_, word)| word != 0)?;
        Some(at as u32 * 64 + 63 - word.leading_zeros())
    }
}
