//! How text output looks on its medium, decided once: colour or none, and how wide a line may be.
//!
//! Knows nothing of reports. The first function to read is [`Style::decide`]. Colour never carries a meaning of its
//! own: whatever is coloured says the same in words.

use std::fmt;

use anstyle::{AnsiColor, Effects};

use super::layout::Width;

/// What the user said about colour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Colour {
    /// Decide by the environment and the medium.
    #[default]
    Auto,
    /// Colour whatever the medium.
    Always,
    /// No colour.
    Never,
}

/// What the process knows of its medium; gathered by the binary.
#[derive(Clone, Copy, Debug, Default)]
pub struct Medium {
    /// The variable `NO_COLOR` is set and not empty.
    pub no_color: bool,
    /// The variable `TERM` is `dumb`.
    pub dumb: bool,
    /// The result goes to a terminal.
    pub terminal: bool,
    /// Its columns, where known.
    pub columns: Option<u16>,
}

/// What a piece of text is, so that it can be set off where colour is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// The sentence that answers the question.
    Verdict,
    /// The name of a section.
    Heading,
    /// A module.
    Name,
    /// What may be skipped.
    Faint,
    /// What a reader should look at before going on.
    Alarm,
}

/// The look of one output.
#[derive(Clone, Copy, Debug)]
pub struct Style {
    colour: bool,
    width: Width,
}

impl Style {
    /// The narrowest line that the layouts are made for.
    pub const NARROWEST: u16 = 60;
    /// Wider terminals are not filled: lines of reasons become hard to follow.
    pub const WIDEST: u16 = 120;
    /// Where the medium has no columns, as in the log of a build.
    pub const IN_LOGS: u16 = 100;

    /// What the user says goes before `NO_COLOR`, that before `TERM=dumb`, that before whether it is a terminal.
    /// A `width` that the user gives is taken as it is.
    pub fn decide(colour: Colour, width: Option<u16>, medium: Medium) -> Self {
        let colour = match colour {
            Colour::Always => true,
            Colour::Never => false,
            Colour::Auto => !medium.no_color && !medium.dumb && medium.terminal,
        };
        let found = medium.columns.map_or(Self::IN_LOGS, |columns| columns.clamp(Self::NARROWEST, Self::WIDEST));
        Style { colour, width: Width(usize::from(width.unwrap_or(found))) }
    }

    /// Columns of a line.
    pub fn width(&self) -> Width {
        self.width
    }

    /// `text` in that ink, to be written with `{}`; its escape sequences are outside of it.
    pub fn paint<T: fmt::Display>(&self, ink: Ink, text: T) -> Painted<T> {
        let plain = anstyle::Style::new();
        let style = match ink {
            _ if !self.colour => plain,
            Ink::Verdict => plain.effects(Effects::BOLD),
            Ink::Heading => plain.effects(Effects::BOLD).fg_color(Some(AnsiColor::Cyan.into())),
            Ink::Name => plain.fg_color(Some(AnsiColor::Green.into())),
            Ink::Faint => plain.effects(Effects::DIMMED),
            Ink::Alarm => plain.effects(Effects::BOLD).fg_color(Some(AnsiColor::Yellow.into())),
        };
        Painted { style, text }
    }
}

/// Text with its ink; see [`Style::paint`].
pub struct Painted<T> {
    style: anstyle::Style,
    text: T,
}

impl<T: fmt::Display> fmt::Display for Painted<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}{:#}", self.style, self.text, self.style)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn coloured(colour: Colour, medium: Medium) -> bool {
        Style::decide(colour, None, medium).paint(Ink::Alarm, "x").to_string().contains('\x1b')
    }

    /// <https://no-color.org>: set and not empty means no colour, unless the user asks for it on the command line.
    #[test]
    fn flag_before_variable_before_terminal() {
        let terminal = Medium { terminal: true, ..Medium::default() };
        assert!(coloured(Colour::Auto, terminal));
        assert!(!coloured(Colour::Auto, Medium::default()));
        assert!(!coloured(Colour::Auto, Medium { no_color: true, ..terminal }));
        assert!(!coloured(Colour::Auto, Medium { dumb: true, ..terminal }));
        assert!(coloured(Colour::Always, Medium { no_color: true, dumb: true, ..Medium::default() }));
        assert!(!coloured(Colour::Never, terminal));
    }

    #[test]
    fn wide_terminals_are_not_filled_and_a_given_width_is_obeyed() {
        let on =
            |columns, width| Style::decide(Colour::Never, width, Medium { columns, ..Medium::default() }).width().0;
        assert_eq!([on(None, None), on(Some(20), None), on(Some(90), None), on(Some(300), None)], [100, 60, 90, 120]);
        assert_eq!(on(Some(90), Some(45)), 45);
    }
}
