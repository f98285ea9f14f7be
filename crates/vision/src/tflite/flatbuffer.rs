//! Bounds-checked reading of a FlatBuffers buffer, as far as TensorFlow Lite files need it.
//!
//! Layout after the FlatBuffers "internals" page: little-endian; a table starts with a signed
//! offset back to its vtable; the vtable lists, per field number, the field's offset from the
//! table's start (0 = absent); vectors and sub-tables are reached through unsigned forward offsets.
//! Every read checks its bounds: a damaged file gives an error, never a panic.

use super::TfliteError;

/// One table of the buffer.
#[derive(Clone, Copy, Debug)]
pub(super) struct Table<'a> {
    buffer: &'a [u8],
    at: usize,
}

impl<'a> Table<'a> {
    /// The root table.
    pub(super) fn root(buffer: &'a [u8]) -> Result<Self, TfliteError> {
        Self::behind_offset(buffer, 0)
    }

    /// An 8-bit field.
    pub(super) fn i8(&self, field: usize, default: i8) -> Result<i8, TfliteError> {
        match self.field(field)? {
            None => Ok(default),
            Some(at) => Ok(i8::from_le_bytes(array_at(self.buffer, at)?)),
        }
    }

    /// A 32-bit field.
    pub(super) fn i32(&self, field: usize, default: i32) -> Result<i32, TfliteError> {
        match self.field(field)? {
            None => Ok(default),
            Some(at) => Ok(i32::from_le_bytes(array_at(self.buffer, at)?)),
        }
    }

    /// A 32-bit field that must be positive: a size, a stride.
    pub(super) fn positive(&self, field: usize, default: i32) -> Result<usize, TfliteError> {
        usize::try_from(self.i32(field, default)?)
            .ok()
            .filter(|&value| value > 0)
            .ok_or(TfliteError::Inconsistent("a size is not positive"))
    }

    /// A sub-table.
    pub(super) fn table(&self, field: usize) -> Result<Option<Table<'a>>, TfliteError> {
        self.field(field)?
            .map(|at| Self::behind_offset(self.buffer, at))
            .transpose()
    }

    /// A vector of tables; empty when absent.
    pub(super) fn tables(&self, field: usize) -> Result<Vec<Table<'a>>, TfliteError> {
        let (start, bytes) = self.vector(field, 4)?;
        (0..bytes.len() / 4)
            .map(|i| Self::behind_offset(self.buffer, start + 4 * i))
            .collect()
    }

    /// A vector of 32-bit integers; empty when absent.
    pub(super) fn i32s(&self, field: usize) -> Result<Vec<i32>, TfliteError> {
        let (_, bytes) = self.vector(field, 4)?;
        Ok(bytes
            .as_chunks()
            .0
            .iter()
            .map(|&b| i32::from_le_bytes(b))
            .collect())
    }

    /// A vector of 16-bit integers; empty when absent.
    pub(super) fn u16s(&self, field: usize) -> Result<Vec<u16>, TfliteError> {
        let (_, bytes) = self.vector(field, 2)?;
        Ok(bytes
            .as_chunks()
            .0
            .iter()
            .map(|&b| u16::from_le_bytes(b))
            .collect())
    }

    /// A vector of bytes; empty when absent.
    pub(super) fn bytes(&self, field: usize) -> Result<&'a [u8], TfliteError> {
        Ok(self.vector(field, 1)?.1)
    }

    /// Where a vector's elements start, and their bytes.
    fn vector(&self, field: usize, element_bytes: usize) -> Result<(usize, &'a [u8]), TfliteError> {
        let Some(at) = self.field(field)? else {
            return Ok((0, &[]));
        };
        let length_at = follow(self.buffer, at)?;
        let length = u32::from_le_bytes(array_at(self.buffer, length_at)?) as usize;
        let start = length_at + 4;
        let end = length
            .checked_mul(element_bytes)
            .and_then(|bytes| start.checked_add(bytes))
            .ok_or(TfliteError::OutOfBounds { at: length_at })?;
        let bytes = self
            .buffer
            .get(start..end)
            .ok_or(TfliteError::OutOfBounds { at: length_at })?;
        Ok((start, bytes))
    }

    fn behind_offset(buffer: &'a [u8], at: usize) -> Result<Self, TfliteError> {
        Ok(Table {
            buffer,
            at: follow(buffer, at)?,
        })
    }

    /// Where the field lies, `None` when the table does not carry it.
    fn field(&self, field: usize) -> Result<Option<usize>, TfliteError> {
        let back = i32::from_le_bytes(array_at(self.buffer, self.at)?);
        let vtable = (self.at as i64)
            .checked_sub(i64::from(back))
            .and_then(|at| usize::try_from(at).ok())
            .ok_or(TfliteError::OutOfBounds { at: self.at })?;
        let vtable_bytes = usize::from(u16::from_le_bytes(array_at(self.buffer, vtable)?));
        // Two 16-bit sizes come before the fields' offsets.
        let entry = 4 + 2 * field;
        if entry + 2 > vtable_bytes {
            return Ok(None);
        }
        let offset = u16::from_le_bytes(array_at(self.buffer, vtable + entry)?);
        Ok((offset != 0).then(|| self.at + usize::from(offset)))
    }
}

/// The place that the unsigned forward offset stored at `at` points to.
fn follow(buffer: &[u8], at: usize) -> Result<usize, TfliteError> {
    let offset = u32::from_le_bytes(array_at(buffer, at)?) as usize;
    at.checked_add(offset)
        .filter(|&to| to < buffer.len())
        .ok_or(TfliteError::OutOfBounds { at })
}

fn array_at<const N: usize>(buffer: &[u8], at: usize) -> Result<[u8; N], TfliteError> {
    buffer
        .get(at..)
        .and_then(|rest| rest.first_chunk())
        .copied()
        .ok_or(TfliteError::OutOfBounds { at })
}
