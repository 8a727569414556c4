//! What one instruction does to a state (JVMS §6.5).
//!
//! The first function to read is [`Machine::step`]; calls of methods that are known here are in `known`.

use crate::classfile::{Effect, Instruction, Pool, Pushed, Tag, descriptor};

use super::Stop;
use super::bootstraps::Bootstraps;
use super::nodes::{Id, Node, Nodes};
use super::state::State;

/// Why an instruction cannot be carried out.
pub(super) enum Fault {
    /// Code that no verifier lets pass.
    Refused,
    Stop,
}

impl From<Stop> for Fault {
    fn from(_: Stop) -> Self {
        Fault::Stop
    }
}

/// Carries out instructions.
pub(super) struct Machine<'a, 'm> {
    pub(super) pool: Pool<'a>,
    pub(super) bootstraps: &'m Bootstraps<'a>,
    pub(super) nodes: &'m mut Nodes,
    pub(super) state: &'m mut State,
    /// What is left, in instructions, slots and values looked at.
    pub(super) work: u32,
}

/// A method call as the code has it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Callee<'a> {
    /// Index of the member reference or the call site.
    pub(super) reference: u16,
    pub(super) owner: &'a [u8],
    pub(super) name: &'a [u8],
    pub(super) descriptor: &'a [u8],
}

impl<'a> Callee<'a> {
    /// The callee of an instruction other than `invokedynamic`, or the field of one that accesses a field.
    pub(super) fn of(pool: Pool<'a>, reference: u16) -> Option<Self> {
        let member = pool.member_ref(reference)?;
        let owner = pool.class_name(member.owner)?;
        Some(Callee { reference, owner, name: member.name, descriptor: member.descriptor })
    }
}

/// How many slots a value of that descriptor takes.
pub(super) fn width(descriptor: &[u8]) -> usize {
    match descriptor {
        b"J" | b"D" => 2,
        b"V" => 0,
        _ => 1,
    }
}

impl Machine<'_, '_> {
    pub(super) fn spend(&mut self, amount: usize) -> Result<(), Stop> {
        let amount = u32::try_from(amount).map_err(|_| Stop)?;
        self.work = self.work.checked_sub(amount).ok_or(Stop)?;
        Ok(())
    }

    /// Carries out an instruction, apart from where it goes.
    pub(super) fn step(&mut self, instruction: Instruction<'_>) -> Result<(), Fault> {
        self.spend(1)?;
        self.carry_out(instruction)?.ok_or(Fault::Refused)
    }

    fn carry_out(&mut self, instruction: Instruction<'_>) -> Result<Option<()>, Stop> {
        let opcode = instruction.opcode;
        match opcode {
            // iconst, bipush, sipush
            0x02..=0x08 => return self.number(i32::from(opcode) - 3),
            0x10 => return self.number(i32::from(instruction.byte().cast_signed())),
            0x11 => return self.number(i32::from(instruction.index().cast_signed())),
            // aaload
            0x32 => {
                let Some(array) = self.state.drop(1).and_then(|()| self.state.pop()) else { return Ok(None) };
                let array = self.state.snapshot(array, self.nodes)?;
                let element = self.nodes.element(array)?;
                self.state.push(element);
                return Ok(Some(()));
            }
            // aastore
            0x53 => {
                let (value, index, array) = (self.state.pop(), self.state.pop(), self.state.pop());
                let (Some(value), Some(_), Some(array)) = (value, index, array) else { return Ok(None) };
                self.store_element(array, value)?;
                return Ok(Some(()));
            }
            // iinc
            0x84 => {
                self.state.store(instruction.variable(), Nodes::UNKNOWN);
                return Ok(Some(()));
            }
            _ => {}
        }
        let Effect::Fixed(popped, pushed) = Effect::of(opcode) else { return self.varying(instruction) };
        if self.state.drop(usize::from(popped)).is_none() {
            return Ok(None);
        }
        match pushed {
            Pushed::Nothing => {}
            Pushed::Int | Pushed::Float => self.state.push(Nodes::UNKNOWN),
            Pushed::Long | Pushed::Double => self.state.stack.extend([Nodes::UNKNOWN; 2]),
            Pushed::Null => self.state.push(Nodes::NULL),
        }
        Ok(Some(()))
    }

    fn number(&mut self, number: i32) -> Result<Option<()>, Stop> {
        let number = self.nodes.add(Node::Number(number))?;
        self.state.push(number);
        Ok(Some(()))
    }

    fn store_element(&mut self, array: Id, value: Id) -> Result<(), Stop> {
        let element = self.state.snapshot(value, self.nodes)?;
        self.state.lose(value, self.nodes)?;
        for site in self.nodes.objects(array) {
            if let Node::Array { elements, whole } = self.nodes.get(self.state.contents(site)) {
                let (mut elements, whole) = (elements.to_vec(), *whole);
                self.spend(elements.len())?;
                elements.push(element);
                let contents = self.nodes.array(elements, whole)?;
                self.state.put(site, contents);
            }
        }
        Ok(())
    }

    fn varying(&mut self, instruction: Instruction<'_>) -> Result<Option<()>, Stop> {
        let opcode = instruction.opcode;
        match opcode {
            // ldc, ldc_w, ldc2_w
            0x12 => return self.constant(u16::from(instruction.byte())),
            0x13 | 0x14 => return self.constant(instruction.index()),
            // loads: int, long, float, double, reference
            0x15..=0x19 => self.load(opcode - 0x15, instruction.variable()),
            0x1A..=0x2D => self.load((opcode - 0x1A) / 4, u16::from((opcode - 0x1A) % 4)),
            // stores
            0x36..=0x3A => return Ok(self.store(opcode - 0x36, instruction.variable())),
            0x3B..=0x4E => return Ok(self.store((opcode - 0x3B) / 4, u16::from((opcode - 0x3B) % 4))),
            // dup and its kin, swap
            0x59..=0x5B => return Ok(self.state.duplicate(1, usize::from(opcode - 0x59))),
            0x5C..=0x5E => return Ok(self.state.duplicate(2, usize::from(opcode - 0x5C))),
            0x5F => return Ok(self.state.swap()),
            // jsr, jsr_w: the flow pushes the address
            0xA8 | 0xC9 => {}
            // areturn, athrow
            0xB0 | 0xBF => return Ok(self.state.drop(1)),
            0xB2..=0xB5 => return self.field(instruction),
            0xB6..=0xB9 => return self.invoke(instruction),
            0xBA => return self.invoke_dynamic(instruction),
            0xBB => return self.create(instruction),
            // newarray
            0xBC => {
                if self.state.drop(1).is_none() {
                    return Ok(None);
                }
                self.state.push(Nodes::UNKNOWN);
            }
            // anewarray
            0xBD => {
                if self.state.drop(1).is_none() {
                    return Ok(None);
                }
                let contents = self.nodes.array(Vec::new(), true)?;
                let array = self.state.create(instruction.pc, contents, self.nodes)?;
                self.state.push(array);
            }
            // checkcast
            0xC0 => return Ok(self.state.stack.last().map(|_| ())),
            // multianewarray
            0xC5 => {
                if self.state.drop(usize::from(instruction.third())).is_none() {
                    return Ok(None);
                }
                self.state.push(Nodes::UNKNOWN);
            }
            _ => return Ok(None),
        }
        Ok(Some(()))
    }

    fn constant(&mut self, index: u16) -> Result<Option<()>, Stop> {
        let id = match self.pool.tag(index) {
            Some(Tag::String) => {
                let Some(text) = self.pool.string(index) else { return Ok(None) };
                self.nodes.known(text)?
            }
            Some(Tag::Class) => self.nodes.add(Node::Class(index))?,
            Some(Tag::Long | Tag::Double) => {
                self.state.push(Nodes::UNKNOWN);
                Nodes::UNKNOWN
            }
            Some(Tag::Dynamic) => {
                let Some(dynamic) = self.pool.dynamic(index) else { return Ok(None) };
                if width(dynamic.descriptor) == 2 {
                    self.state.push(Nodes::UNKNOWN);
                }
                Nodes::UNKNOWN
            }
            Some(Tag::Integer | Tag::Float | Tag::MethodHandle | Tag::MethodType) => Nodes::UNKNOWN,
            _ => return Ok(None),
        };
        self.state.push(id);
        Ok(Some(()))
    }

    fn load(&mut self, group: u8, index: u16) {
        let id = self.state.local(index);
        self.state.push(id);
        if matches!(group, 1 | 3) {
            self.state.push(Nodes::UNKNOWN);
        }
    }

    fn store(&mut self, group: u8, index: u16) -> Option<()> {
        if matches!(group, 1 | 3) {
            self.state.drop(2)?;
            self.state.store(index, Nodes::UNKNOWN);
            self.state.store(index.checked_add(1)?, Nodes::UNKNOWN);
        } else {
            let id = self.state.pop()?;
            self.state.store(index, id);
        }
        Some(())
    }

    fn field(&mut self, instruction: Instruction<'_>) -> Result<Option<()>, Stop> {
        let index = instruction.index();
        let Some(field) = Callee::of(self.pool, index) else { return Ok(None) };
        let slots = width(field.descriptor);
        let is_reference = matches!(field.descriptor, [b'L' | b'[', ..]);
        let is_static = matches!(instruction.opcode, 0xB2 | 0xB3);
        if matches!(instruction.opcode, 0xB3 | 0xB5) {
            if let Some(&value) = self.state.stack.last() {
                self.state.lose(value, self.nodes)?;
            }
            return Ok(self.state.drop(slots + usize::from(!is_static)));
        }
        if !is_static && self.state.drop(1).is_none() {
            return Ok(None);
        }
        let id = match (is_reference, is_static) {
            (false, _) => Nodes::UNKNOWN,
            (true, true) => self.nodes.add(Node::StaticField(index))?,
            (true, false) => self.nodes.add(Node::InstanceField(index))?,
        };
        self.state.push(id);
        if slots == 2 {
            self.state.push(Nodes::UNKNOWN);
        }
        Ok(Some(()))
    }

    fn create(&mut self, instruction: Instruction<'_>) -> Result<Option<()>, Stop> {
        let index = instruction.index();
        let Some(name) = self.pool.class_name(index) else { return Ok(None) };
        let id = if super::known::is_builder(name) {
            self.state.create(instruction.pc, Nodes::EMPTY, self.nodes)?
        } else {
            self.nodes.add(Node::New(index))?
        };
        self.state.push(id);
        Ok(Some(()))
    }

    /// Takes the arguments for a descriptor off the stack; `None` if there are too few.
    pub(super) fn take_arguments(&mut self, text: &[u8]) -> Option<Vec<Id>> {
        let slots: usize = descriptor::parameters(text).map(width).sum();
        let base = self.state.stack.len().checked_sub(slots)?;
        let taken = arguments(self.state.stack.get(base..)?, text);
        self.state.stack.truncate(base);
        Some(taken)
    }

    fn invoke(&mut self, instruction: Instruction<'_>) -> Result<Option<()>, Stop> {
        let Some(callee) = Callee::of(self.pool, instruction.index()) else { return Ok(None) };
        let Some(arguments) = self.take_arguments(callee.descriptor) else { return Ok(None) };
        let receiver = match instruction.opcode {
            0xB8 => None,
            _ => match self.state.pop() {
                Some(receiver) => Some(receiver),
                None => return Ok(None),
            },
        };
        self.spend(arguments.len())?;
        let result = self.call(callee, receiver, &arguments)?;
        Ok(self.push_result(callee.descriptor, result))
    }

    fn invoke_dynamic(&mut self, instruction: Instruction<'_>) -> Result<Option<()>, Stop> {
        let Some(site) = self.pool.dynamic(instruction.index()) else { return Ok(None) };
        let Some(arguments) = self.take_arguments(site.descriptor) else { return Ok(None) };
        self.spend(arguments.len())?;
        let result = self.concatenate(site, &arguments)?;
        Ok(self.push_result(site.descriptor, result))
    }

    fn push_result(&mut self, text: &[u8], id: Id) -> Option<()> {
        let result = descriptor::result(text)?;
        match width(result) {
            0 => {}
            2 => self.state.stack.extend([Nodes::UNKNOWN; 2]),
            _ if matches!(result, [b'L' | b'[', ..]) => self.state.push(id),
            _ => self.state.push(Nodes::UNKNOWN),
        }
        Some(())
    }
}

/// The arguments among the slots that a descriptor's parameters take.
pub(super) fn arguments(slots: &[Id], text: &[u8]) -> Vec<Id> {
    let mut at = 0;
    descriptor::parameters(text)
        .map_while(|parameter| {
            let id = slots.get(at).copied();
            at += width(parameter);
            id
        })
        .collect()
}
