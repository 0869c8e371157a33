//! Whether a zip is nothing but its entries, end to end: every byte belongs to one of them or to the table of contents,
//! and what is said twice of an entry is the same both times.
//!
//! A reader of zips looks for the table of contents from the end and goes from there, so that anything may stand before
//! the entries, between them or after the table, where no fingerprint covers it and another reader finds another pack.

use std::io::{self, BufRead, BufReader, Read, Seek, SeekFrom};

use flate2::{Decompress, FlushDecompress, Status};

/// How the records of a zip begin.
///
/// # Source
/// PKWARE, "APPNOTE.TXT - .ZIP File Format Specification", version 6.3.9, sections 4.3.7 to 4.3.16 (from memory).
const ENTRY: u32 = 0x0403_4b50;
const DESCRIPTOR: u32 = 0x0807_4b50;
const LISTED: u32 = 0x0201_4b50;
const END: u32 = 0x0605_4b50;
const END_64: u32 = 0x0606_4b50;
const LOCATOR_64: u32 = 0x0706_4b50;

/// Lengths of those records without what varies in them.
const ENTRY_LENGTH: u64 = 30;
const LISTED_LENGTH: u64 = 46;
const END_LENGTH: u64 = 22;
const END_64_LENGTH: u64 = 56;
const LOCATOR_64_LENGTH: u64 = 20;

/// The flag of an entry whose sizes stand behind its bytes.
const HAS_DESCRIPTOR: u64 = 1 << 3;

/// The kind of additional data that holds sizes above 4 GB.
const SIZES_64: u64 = 0x0001;

/// The kind that holds the name once more, behind five bytes of its own, for readers that do not take it for UTF-8.
const NAME_UTF_8: u64 = 0x7075;

/// The other kinds that usual programs write, all of times and owners: NTFS, and Unix in three forms.
const KNOWN: [u64; 4] = [0x000a, 0x5455, 0x5855, 0x7875];

/// The flag of an entry that is locked, and the two ways in which entries of packs are stored.
const LOCKED: u64 = 1;
const STORED: u64 = 0;
const DEFLATED: u64 = 8;

/// What is said of an entry in one place.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Entry {
    name: Vec<u8>,
    flags: u64,
    method: u64,
    moment: u64,
    crc: u64,
    packed: u64,
    size: u64,
}

/// Says what is wrong with the layout of a zip, if anything is. `entries` is how many a reader found in it.
///
/// # Errors
/// The system's, and `UnexpectedEof` where a record points outside the file.
pub(super) fn fault(zip: &mut (impl Read + Seek), entries: usize) -> io::Result<Option<String>> {
    match walk(zip, entries as u64) {
        Ok(()) => Ok(None),
        Err(Fault::Layout(why)) => Ok(Some(why)),
        Err(Fault::System(error)) => Err(error),
    }
}

enum Fault {
    Layout(String),
    System(io::Error),
}

impl From<io::Error> for Fault {
    fn from(error: io::Error) -> Fault {
        Fault::System(error)
    }
}

fn wrong<T>(why: impl Into<String>) -> Result<T, Fault> {
    Err(Fault::Layout(why.into()))
}

fn walk(zip: &mut (impl Read + Seek), entries: u64) -> Result<(), Fault> {
    let length = zip.seek(SeekFrom::End(0))?;
    let (table, table_end, listed) = end(zip, length)?;
    if listed != entries {
        return wrong("two of its entries have one name");
    }
    let mut all = listing(zip, table, table_end, listed)?;
    all.sort_by_key(|(start, _)| *start);
    let mut at = 0;
    for place in 0..all.len() {
        let (start, entry) = &all[place];
        let next = all.get(place + 1).map_or(table, |(next, _)| *next);
        if *start != at {
            return wrong("something stands before or between its files, and no list covers it");
        }
        at = entry_end(zip, at, entry, next)?;
    }
    match at == table {
        true => Ok(()),
        false => wrong("something stands between its files and its table of contents, and no list covers it"),
    }
}

/// Where the table of contents begins and ends, and how many entries it has.
fn end(zip: &mut (impl Read + Seek), length: u64) -> Result<(u64, u64, u64), Fault> {
    let place = length.saturating_sub(END_LENGTH);
    let mut end = Record::read(zip, place, END_LENGTH)?;
    if !end.begins(END) {
        return wrong("something follows its end or is written into it as a comment, and no list covers it");
    }
    let [disk, table_disk, here, count] = [2, 2, 2, 2].map(|bytes| end.number(bytes));
    let (size, start, comment) = (end.number(4), end.number(4), end.number(2));
    if disk != 0 || table_disk != 0 || here != count || comment != 0 {
        return wrong("it is a part of a zip in several parts, or has a comment");
    }
    let mut found = (start, place, size, count);
    if let Some(locator) = place.checked_sub(LOCATOR_64_LENGTH) {
        let mut record = Record::read(zip, locator, LOCATOR_64_LENGTH)?;
        if record.begins(LOCATOR_64) {
            let (disk, at, disks) = (record.number(4), record.number(8), record.number(4));
            let mut large = Record::read(zip, at, END_64_LENGTH)?;
            let sound = large.begins(END_64) && large.number(8) == END_64_LENGTH - 12;
            if !sound || disk != 0 || disks > 1 || at.checked_add(END_64_LENGTH) != Some(locator) {
                return wrong("its end is not where it is said to be");
            }
            let [_made, _needed, disk, table_disk] = [2, 2, 4, 4].map(|bytes| large.number(bytes));
            let [here, many, bytes, begin] = [8, 8, 8, 8].map(|bytes| large.number(bytes));
            // The short record says the same, or that it cannot.
            let same = |short: u64, long: u64, most: u64| short == long || short == most;
            let agree = same(count, many, 0xffff)
                && same(size, bytes, 0xffff_ffff)
                && same(start, begin, 0xffff_ffff);
            if disk != 0 || table_disk != 0 || here != many || !agree {
                return wrong("its two ends say different things");
            }
            found = (begin, at, bytes, many);
        }
    }
    let (start, end, size, count) = found;
    match start.checked_add(size) == Some(end) {
        true => Ok((start, end, count)),
        false => wrong("something stands before its beginning or before its end, and no list covers it"),
    }
}

/// The table of contents: where each entry begins, and what is said of it there.
fn listing(
    zip: &mut (impl Read + Seek),
    mut at: u64,
    end: u64,
    count: u64,
) -> Result<Vec<(u64, Entry)>, Fault> {
    let mut all = Vec::new();
    for _ in 0..count {
        let mut record = Record::read(zip, at, LISTED_LENGTH)?;
        if !record.begins(LISTED) {
            return wrong("its table of contents is broken");
        }
        let (_made, _needed) = (record.number(2), record.number(2));
        let mut entry = record.entry();
        let [name, more, comment, disk] = [2, 2, 2, 2].map(|bytes| record.number(bytes));
        let (_within, _without, mut start) = (record.number(2), record.number(4), record.number(4));
        if comment != 0 || disk != 0 {
            return wrong("one of its entries has a comment, and no list covers it");
        }
        entry.name = bytes(zip, at + LISTED_LENGTH, name)?;
        let more = bytes(zip, at + LISTED_LENGTH + name, more)?;
        widen(&more, &entry.name, &mut [&mut entry.size, &mut entry.packed, &mut start])?;
        at += LISTED_LENGTH + name + more.len() as u64;
        all.push((start, entry));
    }
    match at == end {
        true => Ok(all),
        false => wrong("its table of contents holds more than its entries"),
    }
}

/// Where an entry ends that begins at `at`, with what stands behind its bytes; `next` is where the next one begins.
fn entry_end(zip: &mut (impl Read + Seek), at: u64, listed: &Entry, next: u64) -> Result<u64, Fault> {
    let mut record = Record::read(zip, at, ENTRY_LENGTH)?;
    if !record.begins(ENTRY) {
        return wrong("its table of contents names a place where no file begins");
    }
    let _needed = record.number(2);
    let mut entry = record.entry();
    let [name, more] = [2, 2].map(|bytes| record.number(bytes));
    entry.name = bytes(zip, at + ENTRY_LENGTH, name)?;
    let more = bytes(zip, at + ENTRY_LENGTH + name, more)?;
    widen(&more, &entry.name, &mut [&mut entry.size, &mut entry.packed])?;
    let deferred = entry.flags & HAS_DESCRIPTOR != 0;
    if deferred && (entry.crc, entry.packed, entry.size) == (0, 0, 0) {
        (entry.crc, entry.packed, entry.size) = (listed.crc, listed.packed, listed.size);
    }
    if entry != *listed {
        return wrong("what a file says of itself and what its table of contents says of it differ");
    }
    let data = at + ENTRY_LENGTH + name + more.len() as u64;
    let Some(end) = data.checked_add(listed.packed) else { return wrong("a file is too long") };
    let filled = match listed.method {
        _ if listed.flags & LOCKED != 0 => true,
        STORED => listed.packed == listed.size,
        DEFLATED => is_filled(zip, data, listed)?,
        // It is not read, and told for that.
        _ => true,
    };
    if !filled {
        return wrong("something stands behind the packed bytes of a file, and no list covers it");
    }
    if !deferred {
        return Ok(end);
    }
    // Sizes of four bytes or of eight, with or without a mark before them.
    for (marked, wide) in [(true, false), (false, false), (true, true), (false, true)] {
        let long = if wide { 8 } else { 4 };
        let length = if marked { 4 } else { 0 } + 4 + 2 * long;
        if end.checked_add(length) != Some(next) {
            continue;
        }
        let mut record = Record::read(zip, end, length)?;
        let begins = !marked || record.begins(DESCRIPTOR);
        let said = [4, long, long].map(|bytes| record.number(bytes));
        if begins && said == [listed.crc, listed.packed, listed.size] {
            return Ok(next);
        }
    }
    wrong("something stands between its files, and no list covers it")
}

/// Whether the packed bytes of an entry go to their end, and give as many as they should.
fn is_filled(zip: &mut (impl Read + Seek), data: u64, listed: &Entry) -> io::Result<bool> {
    zip.seek(SeekFrom::Start(data))?;
    let mut packed = BufReader::new(zip.take(listed.packed));
    let mut inflate = Decompress::new(false);
    let mut out = vec![0; 64 * 1024];
    while inflate.total_out() <= listed.size {
        let (before, begin) = (inflate.total_in(), inflate.total_out());
        let held = packed.fill_buf()?;
        let Ok(status) = inflate.decompress(held, &mut out, FlushDecompress::None) else { return Ok(false) };
        let taken = inflate.total_in() - before;
        packed.consume(taken as usize);
        match status {
            Status::StreamEnd => {
                return Ok(inflate.total_in() == listed.packed && inflate.total_out() == listed.size);
            }
            // It wants more than there is.
            _ if taken == 0 && inflate.total_out() == begin => return Ok(false),
            _ => {}
        }
    }
    Ok(false)
}

/// Looks through the additional data of an entry, and takes the sizes from it that did not fit into four bytes.
fn widen(mut more: &[u8], name: &[u8], narrow: &mut [&mut u64]) -> Result<(), Fault> {
    let mut kinds = Vec::new();
    while !more.is_empty() {
        let Some((head, rest)) = more.split_at_checked(4) else {
            return wrong("the additional data of an entry is broken");
        };
        let (kind, length) = (little(&head[..2]), little(&head[2..]) as usize);
        let Some((data, rest)) = rest.split_at_checked(length) else {
            return wrong("the additional data of an entry is broken");
        };
        let name_again = kind == NAME_UTF_8 && data.get(5..) == Some(name);
        if kinds.contains(&kind) || (length > 64 && !name_again) {
            return wrong("an entry has more additional data than usual, and no list covers it");
        }
        kinds.push(kind);
        if kind == SIZES_64 {
            let mut wide = data.chunks_exact(8);
            for value in narrow.iter_mut().filter(|value| ***value == 0xffff_ffff) {
                let Some(long) = wide.next() else { return wrong("a size of an entry is missing") };
                **value = little(long);
            }
            // Some programs repeat sizes that fit.
        } else if !KNOWN.contains(&kind) && !name_again {
            return wrong(format!(
                "an entry has additional data of an unusual kind ({kind:#06x}), and no list covers it; make the zip \
                 again with usual settings"
            ));
        }
        more = rest;
    }
    Ok(())
}

/// The bytes of one record, taken from its beginning.
struct Record {
    bytes: Vec<u8>,
    at: usize,
}

impl Record {
    fn read(zip: &mut (impl Read + Seek), place: u64, length: u64) -> io::Result<Record> {
        Ok(Record { bytes: bytes(zip, place, length)?, at: 0 })
    }

    fn begins(&mut self, mark: u32) -> bool {
        self.number(4) == u64::from(mark)
    }

    /// The next number, the least byte first.
    fn number(&mut self, length: u64) -> u64 {
        let from = self.at;
        self.at += length as usize;
        little(&self.bytes[from..self.at])
    }

    /// What both records of an entry say in the same order; its name stands behind.
    fn entry(&mut self) -> Entry {
        let [flags, method] = [2, 2].map(|bytes| self.number(bytes));
        let [moment, crc, packed, size] = [4, 4, 4, 4].map(|bytes| self.number(bytes));
        Entry { name: Vec::new(), flags, method, moment, crc, packed, size }
    }
}

fn bytes(zip: &mut (impl Read + Seek), place: u64, length: u64) -> io::Result<Vec<u8>> {
    zip.seek(SeekFrom::Start(place))?;
    let mut bytes = vec![0; length as usize];
    zip.read_exact(&mut bytes)?;
    Ok(bytes)
}

fn little(bytes: &[u8]) -> u64 {
    bytes.iter().rev().fold(0, |number, byte| number << 8 | u64::from(*byte))
}
