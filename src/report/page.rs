//! A page of text in the making: the few shapes of line that all text output is built of.
//!
//! Escapes every text that it is given and keeps it within the columns; what the lines say is the renderers' affair.
//! The first function to read is [`Page::paragraph`].

use std::io::{self, Write};

use super::escape::visible;
use super::layout::{Width, pad};
use super::style::{Ink, Style};

/// Where a page is written to, and how it looks.
pub struct Page<'a> {
    style: &'a Style,
    out: &'a mut dyn Write,
}

impl<'a> Page<'a> {
    /// An empty page.
    pub fn new(style: &'a Style, out: &'a mut dyn Write) -> Self {
        Page { style, out }
    }

    /// Columns of a line.
    pub fn width(&self) -> Width {
        self.style.width()
    }

    /// An empty line.
    pub fn gap(&mut self) -> io::Result<()> {
        writeln!(self.out)
    }

    /// A sentence or several, broken into lines that stand `indent` columns in.
    pub fn paragraph(&mut self, indent: usize, ink: Option<Ink>, text: &str) -> io::Result<()> {
        self.hanging(&" ".repeat(indent), indent, ink, text)
    }

    /// The same after a `mark`, which the following lines stand clear of.
    pub fn hanging(&mut self, mark: &str, indent: usize, ink: Option<Ink>, text: &str) -> io::Result<()> {
        let mut start = pad(mark, indent);
        for line in self.width().less(indent).wrap(&visible(text)) {
            match ink {
                Some(ink) => writeln!(self.out, "{start}{}", self.style.paint(ink, line))?,
                None => writeln!(self.out, "{start}{line}")?,
            }
            start = " ".repeat(indent);
        }
        Ok(())
    }

    /// One line that is shortened where it is too long.
    pub fn line(&mut self, indent: usize, ink: Option<Ink>, text: &str) -> io::Result<()> {
        let text = visible(text);
        let text = self.width().less(indent).shorten(&text);
        match ink {
            Some(ink) => writeln!(self.out, "{:indent$}{}", "", self.style.paint(ink, text)),
            None => writeln!(self.out, "{:indent$}{text}", ""),
        }
    }

    /// A label and what it stands for: `needed: code asks for it`.
    pub fn heading(&mut self, label: &str, meaning: &str) -> io::Result<()> {
        let mut lines = self.width().wrap(&format!("{label}: {meaning}")).into_iter();
        if let Some(first) = lines.next() {
            match first.strip_prefix(label) {
                Some(rest) => writeln!(self.out, "{}{rest}", self.style.paint(Ink::Heading, label))?,
                None => writeln!(self.out, "{}", self.style.paint(Ink::Heading, first))?,
            }
        }
        lines.try_for_each(|line| writeln!(self.out, "{line}"))
    }

    /// A line of a table: a mark of two columns, a name of `name.0` columns, a figure to the right of nine, the rest.
    pub fn row(&mut self, mark: &str, name: (&str, usize), figure: &str, rest: &str) -> io::Result<()> {
        let (text, columns) = name;
        let text = visible(text);
        let text = pad(&Width(columns).shorten(&text), columns);
        let rest = visible(rest);
        let rest = self.width().less(2 + columns + 2 + 9 + 2).shorten(&rest);
        let name = self.style.paint(Ink::Name, text);
        if rest.is_empty() {
            return writeln!(self.out, "{mark:<2}{name}  {figure:>9}");
        }
        writeln!(self.out, "{mark:<2}{name}  {figure:>9}  {}", rest.trim_end())
    }

    /// The same with a sentence for the rest, which may take two more lines.
    pub fn entry(&mut self, mark: &str, name: (&str, usize), figure: &str, rest: &str) -> io::Result<()> {
        let indent = 2 + name.1 + 2 + 9 + 2;
        let width = self.width().less(indent);
        let rest = visible(rest);
        let mut lines = width.wrap(&rest);
        let second = lines.get(1).cloned();
        let third = lines.get(2..).unwrap_or_default().join(" ");
        lines.truncate(1);
        self.row(mark, name, figure, lines.first().map_or("", String::as_str))?;
        for line in second.iter().chain([&third]).filter(|line| !line.is_empty()) {
            writeln!(self.out, "{:indent$}{}", "", width.shorten(line))?;
        }
        Ok(())
    }

    /// A line of a path: a word or two of `how.1` columns and what they lead to.
    pub fn pair(&mut self, indent: usize, how: (&str, usize), what: &str) -> io::Result<()> {
        let (text, columns) = how;
        let text = visible(text);
        let text = pad(&Width(columns).shorten(&text), columns);
        let what = visible(what);
        let what = self.width().less(indent + columns + 2).shorten(&what);
        writeln!(self.out, "{:indent$}{text}  {}", "", self.style.paint(Ink::Name, what))
    }

    /// Something to copy: neither broken nor shortened, though escaped.
    pub fn verbatim(&mut self, indent: usize, text: &str) -> io::Result<()> {
        writeln!(self.out, "{:indent$}{}", "", visible(text))
    }
}
