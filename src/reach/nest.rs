//! Classes that the JVM loads because others are nested in them.
//!
//! A nested class loads none of those around it when it is used. Private access between two members of a nest loads its
//! host (JVMS §5.4.4), and whoever asks for a simple name, as what a record prints does, loads the class right around.
//! The first functions to read are [`Run::enters`] and [`Run::name_around`].

use crate::program::{ClassId, MethodId};

use super::Cause;
use super::run::Run;

/// The class file version from which private access goes by nests (JVMS §4.7.28); compilers wrote accessors before.
const FIRST_WITH_NESTS: u16 = 55;

/// Classes around one another that are followed.
const MOST_AROUND: usize = 16;

impl Run<'_> {
    /// A method is called: where it is private and of another class, both have to be of one nest.
    pub(super) fn enters(&mut self, target: MethodId, cause: Cause) {
        let program = self.types.program;
        let Some(target) = program.method(target).filter(|target| target.is_private()) else { return };
        let Cause::Method(caller) = cause else { return };
        let Some(caller) = program.method(caller).map(|caller| caller.class) else { return };
        if caller != target.class {
            self.load_host(caller);
            self.load_host(target.class);
        }
    }

    fn load_host(&mut self, id: ClassId) {
        if self.types.class(id).is_none_or(|class| class.major < FIRST_WITH_NESTS) {
            return;
        }
        if let Some(host) = std::iter::successors(Some(id), |&id| self.around(id)).take(MOST_AROUND).last()
            && host != id
        {
            self.load(host, Cause::Class(id));
        }
    }

    /// The class around one may be loaded for its name, or for a private field.
    pub(super) fn name_around(&mut self, id: ClassId) {
        if let Some(around) = self.around(id) {
            self.load(around, Cause::Class(id));
        }
    }

    fn around(&self, id: ClassId) -> Option<ClassId> {
        self.types.find(self.types.scope(id), self.types.class(id).and_then(|class| class.enclosing)?)
    }
}
