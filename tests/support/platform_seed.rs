//! Writers of small platform files: module descriptors (JVMS §4.7.25), packaged modules (JEP 261), run-time images
//! (the layout of `jdk.internal.jimage`). They share no code with the readers.

use std::io::{Cursor, Write};

use zip::CompressionMethod;
use zip::write::{SimpleFileOptions, ZipWriter};

/// Bytes of a class file of `major` 61 that names itself `name`, extends `java/lang/Object` and has a method `run()V`.
pub fn class(name: &str) -> Vec<u8> {
    let mut pool = Pool::default();
    let this = pool.class(name);
    let superclass = pool.class("java/lang/Object");
    let (run, descriptor) = (pool.utf8("run"), pool.utf8("()V"));
    let tail = [0x0421, this, superclass, 0, 0, 1, 0x0401, run, descriptor, 0, 0];
    pool.class_file(&words(&tail))
}

/// Bytes of the descriptor of a module that requires `java.base` (unless it is that), exports `package`, uses and
/// provides a service in it.
pub fn module_info(module: &str, package: &str) -> Vec<u8> {
    let mut pool = Pool::default();
    let this = pool.class("module-info");
    let name = pool.named(19, module);
    let base = pool.named(19, "java.base");
    let exported = pool.named(20, package);
    let service = pool.class(&format!("{package}/Service"));
    let provider = pool.class(&format!("{package}/Provider"));
    let (attribute, packages) = (pool.utf8("Module"), pool.utf8("ModulePackages"));
    let mut body = vec![name, 0, 0];
    body.extend(if module == "java.base" { vec![0] } else { vec![1, base, 0x8000, 0] });
    body.extend([1, exported, 0, 0, 1, exported, 0, 1, base, 1, service, 1, service, 1, provider]);
    let mut tail = words(&[0x8000, this, 0, 0, 0, 0, 2, attribute]);
    tail.extend(u32::try_from(body.len() * 2).unwrap().to_be_bytes());
    tail.extend(words(&body));
    tail.extend(words(&[packages, 0, 4, 1, exported]));
    pool.class_file(&tail)
}

fn words(words: &[u16]) -> Vec<u8> {
    words.iter().flat_map(|word| word.to_be_bytes()).collect()
}

#[derive(Default)]
struct Pool {
    bytes: Vec<u8>,
    count: u16,
}

impl Pool {
    fn utf8(&mut self, text: &str) -> u16 {
        self.bytes.push(1);
        self.bytes.extend(u16::try_from(text.len()).unwrap().to_be_bytes());
        self.bytes.extend(text.as_bytes());
        self.count += 1;
        self.count
    }

    /// A constant that consists of a tag and a name: class, module, package.
    fn named(&mut self, tag: u8, name: &str) -> u16 {
        let name = self.utf8(name);
        self.bytes.push(tag);
        self.bytes.extend(name.to_be_bytes());
        self.count += 1;
        self.count
    }

    fn class(&mut self, name: &str) -> u16 {
        self.named(7, name)
    }

    fn class_file(self, tail: &[u8]) -> Vec<u8> {
        let head = [0xCA, 0xFE, 0xBA, 0xBE, 0, 0, 0, 61];
        [&head[..], &(self.count + 1).to_be_bytes(), &self.bytes, tail].concat()
    }
}

/// A packaged module of these entries, stored and deflated by turns.
pub fn jmod(entries: &[(&str, Vec<u8>)]) -> Vec<u8> {
    let mut out = Cursor::new(Vec::new());
    out.write_all(&[0x4A, 0x4D, 1, 0]).unwrap();
    let mut zip = ZipWriter::new(out);
    for (name, bytes) in entries {
        zip.start_file(*name, SimpleFileOptions::default().compression_method(CompressionMethod::Stored)).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

/// The two orders in which an image can hold its numbers.
#[derive(Clone, Copy, Debug)]
pub enum Endian {
    Little,
    Big,
}

impl Endian {
    fn word(self, value: u32) -> [u8; 4] {
        match self {
            Endian::Little => value.to_le_bytes(),
            Endian::Big => value.to_be_bytes(),
        }
    }

    fn long(self, value: u64) -> [u8; 8] {
        match self {
            Endian::Little => value.to_le_bytes(),
            Endian::Big => value.to_be_bytes(),
        }
    }
}

/// An image of resources `(module, folder, base, extension, bytes)`; every second one compressed by `zip`.
pub fn image(endian: Endian, resources: &[(&str, &str, &str, &str, Vec<u8>)]) -> Vec<u8> {
    let mut strings = vec![0];
    let string = |text: &str, strings: &mut Vec<u8>| {
        let at = if text.is_empty() { 0 } else { strings.len() };
        if !text.is_empty() {
            strings.extend(text.as_bytes());
            strings.push(0);
        }
        u64::try_from(at).unwrap()
    };
    let method = u32::try_from(string("zip", &mut strings)).unwrap();
    let (mut locations, mut contents) = (vec![0_u8], Vec::new());
    let mut places = Vec::new();
    for (number, (module, folder, base, extension, bytes)) in resources.iter().enumerate() {
        let stored = if number % 2 == 0 { bytes.clone() } else { compressed(endian, method, bytes) };
        places.push(u32::try_from(locations.len()).unwrap());
        let attributes = [
            string(module, &mut strings),
            string(folder, &mut strings),
            string(base, &mut strings),
            string(extension, &mut strings),
            contents.len() as u64,
            if number % 2 == 0 { 0 } else { stored.len() as u64 },
            bytes.len() as u64,
        ];
        for (kind, value) in (1_u8..).zip(attributes).filter(|(_, value)| *value != 0) {
            let digits: Vec<u8> = value.to_be_bytes().into_iter().skip_while(|digit| *digit == 0).collect();
            locations.push(kind << 3 | u8::try_from(digits.len() - 1).unwrap());
            locations.extend(digits);
        }
        locations.push(0);
        contents.extend(stored);
    }
    let names: Vec<String> = resources
        .iter()
        .map(|(module, folder, base, extension, _)| {
            let folder = if folder.is_empty() { String::new() } else { format!("{folder}/") };
            format!("/{module}/{folder}{base}.{extension}")
        })
        .collect();
    let (redirects, slots) = perfect_hash(&names);
    let count = u32::try_from(resources.len()).unwrap();
    let sizes = [locations.len(), strings.len()].map(|size| u32::try_from(size).unwrap());
    let mut out: Vec<u8> = [0xCAFE_DADA, 0x0001_0000, 0, count, count, sizes[0], sizes[1]]
        .into_iter()
        .chain(redirects.iter().map(|redirect| redirect.cast_unsigned()))
        .chain(slots.iter().map(|resource| places[*resource]))
        .flat_map(|word| endian.word(word))
        .collect();
    out.extend(locations);
    out.extend(strings);
    out.extend(contents);
    out
}

fn compressed(endian: Endian, method: u32, bytes: &[u8]) -> Vec<u8> {
    let mut deflate = libdeflater::Compressor::new(libdeflater::CompressionLvl::default());
    let mut stream = vec![0; deflate.zlib_compress_bound(bytes.len())];
    let length = deflate.zlib_compress(bytes, &mut stream).unwrap();
    stream.truncate(length);
    let mut out = endian.word(0xCAFE_FAFA).to_vec();
    out.extend(endian.long(stream.len() as u64));
    out.extend(endian.long(bytes.len() as u64));
    out.extend(endian.word(method));
    out.extend(endian.word(u32::MAX));
    out.push(1);
    out.extend(stream);
    out
}

/// Redirects by first hash, and the resource in each slot.
fn perfect_hash(names: &[String]) -> (Vec<i32>, Vec<usize>) {
    let hash = |name: &str, seed: u32| {
        let mut hash = seed;
        for byte in name.bytes() {
            hash = hash.wrapping_mul(0x0100_0193) ^ u32::from(byte);
        }
        (hash & 0x7FFF_FFFF) as usize % names.len()
    };
    let mut groups = vec![Vec::new(); names.len()];
    for (number, name) in names.iter().enumerate() {
        groups[hash(name, 0x0100_0193)].push(number);
    }
    let mut order: Vec<usize> = (0..groups.len()).collect();
    order.sort_by_key(|group| std::cmp::Reverse(groups[*group].len()));
    let mut redirects = vec![0; names.len()];
    let mut slots: Vec<Option<usize>> = vec![None; names.len()];
    for group in order {
        let members = &groups[group];
        if members.len() == 1 {
            let free = slots.iter().position(Option::is_none).unwrap();
            slots[free] = Some(members[0]);
            redirects[group] = -1 - i32::try_from(free).unwrap();
        } else if !members.is_empty() {
            let seed = (1_u32..1 << 20)
                .find(|seed| {
                    let mut wanted: Vec<usize> = members.iter().map(|m| hash(&names[*m], *seed)).collect();
                    wanted.sort_unstable();
                    wanted.dedup();
                    wanted.len() == members.len() && wanted.iter().all(|slot| slots[*slot].is_none())
                })
                .expect("an odd number of resources: powers of two cannot part all names");
            for member in members {
                slots[hash(&names[*member], seed)] = Some(*member);
            }
            redirects[group] = i32::try_from(seed).unwrap();
        }
    }
    (redirects, slots.into_iter().map(Option::unwrap).collect())
}
