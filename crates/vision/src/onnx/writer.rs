//! An ONNX model under construction: nodes, constants, inputs and outputs.
//!
//! Field numbers after `onnx.proto3` of ONNX, IR version 8, operator set 13.

use super::protobuf::Message;

/// `TensorProto.DataType.FLOAT`.
const FLOAT: i64 = 1;
/// `TensorProto.DataType.INT64`.
const INT64: i64 = 7;

/// Attribute of a node.
pub(super) enum Attribute<'a> {
    Int(i64),
    Ints(&'a [i64]),
    Text(&'a str),
}

/// Collects the parts of a model.
#[derive(Debug, Default)]
pub(super) struct ModelWriter {
    nodes: Message,
    constants: Message,
    inputs: Message,
    outputs: Message,
    node_count: usize,
}

impl ModelWriter {
    /// A node with one output.
    pub(super) fn node(
        &mut self,
        operator: &str,
        inputs: &[&str],
        output: &str,
        attributes: &[(&str, Attribute<'_>)],
    ) {
        self.node_count += 1;
        let name = format!("{operator}_{}", self.node_count);
        self.nodes.message(1, |node| {
            for input in inputs {
                node.bytes(1, input.as_bytes());
            }
            node.bytes(2, output.as_bytes());
            node.bytes(3, name.as_bytes());
            node.bytes(4, operator.as_bytes());
            for (name, value) in attributes {
                node.message(5, |attribute| write_attribute(attribute, name, value));
            }
        });
    }

    /// A constant of single-precision numbers.
    pub(super) fn floats(&mut self, name: &str, shape: &[usize], values: &[f32]) {
        let raw: Vec<u8> = values.iter().flat_map(|v| v.to_le_bytes()).collect();
        self.constant(name, shape, FLOAT, &raw);
    }

    /// A constant list of integers.
    pub(super) fn integers(&mut self, name: &str, values: &[i64]) {
        let raw: Vec<u8> = values.iter().flat_map(|v| v.to_le_bytes()).collect();
        self.constant(name, &[values.len()], INT64, &raw);
    }

    /// An input of the model.
    pub(super) fn input(&mut self, name: &str, shape: &[usize]) {
        self.inputs
            .message(11, |info| write_value_info(info, name, shape));
    }

    /// An output of the model.
    pub(super) fn output(&mut self, name: &str, shape: &[usize]) {
        self.outputs
            .message(12, |info| write_value_info(info, name, shape));
    }

    /// The finished model.
    pub(super) fn finish(self) -> Vec<u8> {
        const IR_VERSION: i64 = 8;
        const OPERATOR_SET: i64 = 13;
        let mut model = Message::default();
        model.int(1, IR_VERSION);
        model.message(7, |graph| {
            graph.append(self.nodes);
            graph.bytes(2, b"converted");
            graph.append(self.constants);
            graph.append(self.inputs);
            graph.append(self.outputs);
        });
        model.message(8, |set| {
            set.bytes(1, b"");
            set.int(2, OPERATOR_SET);
        });
        model.into_bytes()
    }

    fn constant(&mut self, name: &str, shape: &[usize], element: i64, raw: &[u8]) {
        self.constants.message(5, |tensor| {
            for &size in shape {
                tensor.int(1, size as i64);
            }
            tensor.int(2, element);
            tensor.bytes(8, name.as_bytes());
            tensor.bytes(9, raw);
        });
    }
}

/// Fields of `AttributeProto`; field 20 states the type (2 = INT, 3 = STRING, 7 = INTS).
fn write_attribute(attribute: &mut Message, name: &str, value: &Attribute<'_>) {
    attribute.bytes(1, name.as_bytes());
    match value {
        Attribute::Int(value) => {
            attribute.int(3, *value);
            attribute.int(20, 2);
        }
        Attribute::Text(text) => {
            attribute.bytes(4, text.as_bytes());
            attribute.int(20, 3);
        }
        Attribute::Ints(values) => {
            for &value in *values {
                attribute.int(8, value);
            }
            attribute.int(20, 7);
        }
    }
}

/// Fields of `ValueInfoProto` for a tensor of single-precision numbers.
fn write_value_info(info: &mut Message, name: &str, shape: &[usize]) {
    info.bytes(1, name.as_bytes());
    info.message(2, |kind| {
        kind.message(1, |tensor| {
            tensor.int(1, FLOAT);
            tensor.message(2, |dimensions| {
                for &size in shape {
                    dimensions.message(1, |dimension| dimension.int(1, size as i64));
                }
            });
        });
    });
}
