//! Writing of protocol-buffer messages, as far as ONNX files need it ("Encoding", Protocol Buffers
//! documentation): a field is its number and wire type as a varint, then a varint or a length and
//! bytes.

/// A message under construction.
#[derive(Debug, Default)]
pub(super) struct Message {
    bytes: Vec<u8>,
}

impl Message {
    /// A field of type int32, int64 or enum.
    pub(super) fn int(&mut self, field: u32, value: i64) {
        self.varint(u64::from(field) << 3);
        // Negative numbers take their 64-bit two's complement.
        self.varint(value as u64);
    }

    /// A field of type string, bytes or packed numbers.
    pub(super) fn bytes(&mut self, field: u32, value: &[u8]) {
        self.varint(u64::from(field) << 3 | 2);
        self.varint(value.len() as u64);
        self.bytes.extend_from_slice(value);
    }

    /// A field that is a message itself.
    pub(super) fn message(&mut self, field: u32, write: impl FnOnce(&mut Message)) {
        let mut inner = Message::default();
        write(&mut inner);
        self.bytes(field, &inner.bytes);
    }

    /// All fields of another message, as if written here.
    pub(super) fn append(&mut self, other: Message) {
        self.bytes.extend(other.bytes);
    }

    /// The message's bytes.
    pub(super) fn into_bytes(self) -> Vec<u8> {
        self.bytes
    }

    fn varint(&mut self, mut value: u64) {
        while value >= 0x80 {
            self.bytes.push(value as u8 | 0x80);
            value >>= 7;
        }
        self.bytes.push(value as u8);
    }
}

#[cfg(test)]
mod tests {
    use super::Message;

    /// The worked examples of the Protocol Buffers documentation, "Encoding".
    #[test]
    fn documented_examples() {
        let mut message = Message::default();
        message.int(1, 150);
        assert_eq!(message.into_bytes(), [0x08, 0x96, 0x01]);

        let mut message = Message::default();
        message.bytes(2, b"testing");
        assert_eq!(
            message.into_bytes(),
            [0x12, 0x07, 0x74, 0x65, 0x73, 0x74, 0x69, 0x6e, 0x67]
        );

        let mut message = Message::default();
        message.message(3, |inner| inner.int(1, 150));
        assert_eq!(message.into_bytes(), [0x1a, 0x03, 0x08, 0x96, 0x01]);

        let mut message = Message::default();
        message.int(1, -2);
        assert_eq!(
            message.into_bytes(),
            [
                0x08, 0xfe, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x01
            ]
        );
    }
}
