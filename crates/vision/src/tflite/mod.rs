//! What a TensorFlow Lite file says: tensors, operators, which tensors go in and come out.
//!
//! Only the operators of the two networks used here are understood; anything else is an error.
//! Field numbers and operator codes after `schema.fbs`, version 3, of TensorFlow Lite. Tensors are
//! in NHWC order (batch, row, column, channel).

#[cfg(test)]
mod damage_tests;
mod flatbuffer;
mod half;
mod sparse;
mod weights;

pub(crate) use weights::Weights;

use flatbuffer::Table;
use thiserror::Error;

/// What is wrong with a file that should be a TensorFlow Lite network.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum TfliteError {
    /// The file identifier is missing.
    #[error("it is not a TensorFlow Lite file (no \"TFL3\" at byte 4)")]
    NotTflite,
    /// An offset or a length leads outside the file.
    #[error("it is damaged: what byte {at} points to lies outside the file")]
    OutOfBounds {
        /// Where the offending offset or value lies.
        at: usize,
    },
    /// Parts of the file contradict each other.
    #[error("it is damaged: {0}")]
    Inconsistent(&'static str),
    /// A network that this program was not made for.
    #[error("it uses {0}, which this program does not convert")]
    Unsupported(String),
}

/// A network as the file describes it.
#[derive(Debug)]
pub(crate) struct Graph<'a> {
    pub(crate) tensors: Vec<Tensor<'a>>,
    pub(crate) operators: Vec<Operator>,
    /// Indices into `tensors`.
    pub(crate) inputs: Vec<usize>,
    /// Indices into `tensors`.
    pub(crate) outputs: Vec<usize>,
}

/// One tensor: an activation if `data` is empty, else a constant.
#[derive(Debug)]
pub(crate) struct Tensor<'a> {
    pub(crate) shape: Vec<usize>,
    element: Element,
    data: &'a [u8],
    sparsity: Option<Table<'a>>,
}

/// Type of a tensor's elements.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Element {
    Float32,
    Float16,
    Int32,
    /// Not read here.
    Other,
}

/// One step of the network.
#[derive(Debug)]
pub(crate) struct Operator {
    pub(crate) kind: OperatorKind,
    /// Indices into the graph's tensors; an absent optional input is left out at the end.
    pub(crate) inputs: Vec<usize>,
    pub(crate) output: usize,
}

/// What a step does; (row, column) order in pairs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum OperatorKind {
    Add(Activation),
    /// Along this axis of the NHWC tensor; negative counts from the last.
    Concatenate {
        axis: i32,
    },
    Convolve(Convolution),
    /// One filter a channel.
    ConvolveDepthwise(Convolution),
    /// Sparse weights to dense ones.
    Densify,
    DepthToSpace {
        block: usize,
    },
    /// Half-precision weights to single precision.
    Dequantize,
    MaxPool {
        filter: (usize, usize),
        stride: (usize, usize),
        padding: Padding,
    },
    Pad,
    Reshape,
    ResizeBilinear(ResizeGrid),
    Sigmoid,
}

/// Settings of a two-dimensional convolution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Convolution {
    pub(crate) stride: (usize, usize),
    pub(crate) dilation: (usize, usize),
    pub(crate) padding: Padding,
    pub(crate) activation: Activation,
}

/// How the border is treated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Padding {
    /// The output has `ceil(input / stride)` samples; zeros outside.
    Same,
    /// No padding.
    Valid,
}

/// What follows a step within the same operator.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Activation {
    None,
    Relu,
    /// Clipped to 0..=6.
    Relu6,
}

/// Which points of two grids fall together when one is resized to the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum ResizeGrid {
    AlignedCorners,
    HalfPixel,
    Asymmetric,
}

impl<'a> Graph<'a> {
    /// Reads a file's first (and only) sub-graph.
    ///
    /// # Errors
    /// When the file is not a TensorFlow Lite file, is damaged, or holds an unknown operator.
    pub(crate) fn parse(file: &'a [u8]) -> Result<Self, TfliteError> {
        if file.get(4..8) != Some(b"TFL3") {
            return Err(TfliteError::NotTflite);
        }
        let model = Table::root(file)?;
        let buffers = model.tables(4)?;
        let codes = model
            .tables(1)?
            .iter()
            .map(operator_code)
            .collect::<Result<Vec<_>, _>>()?;
        let subgraph = *model
            .tables(2)?
            .first()
            .ok_or(TfliteError::Inconsistent("it holds no network"))?;
        let tensors = subgraph
            .tables(0)?
            .iter()
            .map(|table| Tensor::parse(table, &buffers))
            .collect::<Result<Vec<_>, _>>()?;
        let operators = subgraph
            .tables(3)?
            .iter()
            .map(|table| Operator::parse(table, &codes, tensors.len()))
            .collect::<Result<Vec<_>, _>>()?;
        Ok(Graph {
            inputs: tensor_indices(&subgraph.i32s(1)?, tensors.len())?,
            outputs: tensor_indices(&subgraph.i32s(2)?, tensors.len())?,
            tensors,
            operators,
        })
    }

    /// For each operator, whether any of `wanted` (tensor indices) depends on it.
    pub(crate) fn operators_needed_for(&self, wanted: &[usize]) -> Vec<bool> {
        let mut tensor_needed = vec![false; self.tensors.len()];
        for &tensor in wanted {
            tensor_needed[tensor] = true;
        }
        let mut operator_needed = vec![false; self.operators.len()];
        for (operator, needed) in self.operators.iter().zip(&mut operator_needed).rev() {
            if tensor_needed[operator.output] {
                *needed = true;
                for &input in &operator.inputs {
                    tensor_needed[input] = true;
                }
            }
        }
        operator_needed
    }
}

impl<'a> Tensor<'a> {
    fn parse(table: &Table<'a>, buffers: &[Table<'a>]) -> Result<Self, TfliteError> {
        let shape = table
            .i32s(0)?
            .into_iter()
            .map(|size| usize::try_from(size).ok().filter(|&size| size > 0))
            .collect::<Option<Vec<_>>>()
            .ok_or(TfliteError::Inconsistent("a tensor has a size below 1"))?;
        let buffer = usize::try_from(table.i32(2, 0)?)
            .ok()
            .and_then(|index| buffers.get(index))
            .ok_or(TfliteError::Inconsistent("a tensor names a missing buffer"))?;
        Ok(Tensor {
            shape,
            element: match table.i8(1, 0)? {
                0 => Element::Float32,
                1 => Element::Float16,
                2 => Element::Int32,
                _ => Element::Other,
            },
            data: buffer.bytes(0)?,
            sparsity: table.table(6)?,
        })
    }

    /// How many elements the shape holds.
    pub(crate) fn elements(&self) -> Result<usize, TfliteError> {
        // The largest tensor of the networks used here has 4 million elements.
        const MOST: usize = 1 << 26;
        self.shape
            .iter()
            .try_fold(1usize, |product, &size| product.checked_mul(size))
            .filter(|&product| product <= MOST)
            .ok_or(TfliteError::Inconsistent("a tensor is far too large"))
    }

    /// (batch, rows, columns, channels) of a 4-dimensional tensor.
    pub(crate) fn nhwc(&self) -> Result<[usize; 4], TfliteError> {
        self.elements()?;
        self.shape
            .as_slice()
            .try_into()
            .map_err(|_| TfliteError::Unsupported("a tensor that is not 4-dimensional".into()))
    }

    /// The values of a constant of 32-bit integers.
    pub(crate) fn integers(&self) -> Result<Vec<i32>, TfliteError> {
        if self.element != Element::Int32 {
            return Err(TfliteError::Inconsistent("integers expected"));
        }
        let chunks = self.data.as_chunks().0;
        Ok(chunks.iter().map(|&b| i32::from_le_bytes(b)).collect())
    }
}

impl Operator {
    fn parse(table: &Table<'_>, codes: &[i32], tensors: usize) -> Result<Self, TfliteError> {
        let code = usize::try_from(table.i32(0, 0)?)
            .ok()
            .and_then(|index| codes.get(index))
            .ok_or(TfliteError::Inconsistent("an operator names no code"))?;
        let mut inputs = table.i32s(1)?;
        // An optional input that is not given is −1 (a bias, always the last one here).
        while inputs.last() == Some(&-1) {
            inputs.pop();
        }
        let outputs = tensor_indices(&table.i32s(2)?, tensors)?;
        let [output] = outputs[..] else {
            return Err(TfliteError::Unsupported(
                "an operator without exactly one output".into(),
            ));
        };
        Ok(Operator {
            kind: operator_kind(*code, table)?,
            inputs: tensor_indices(&inputs, tensors)?,
            output,
        })
    }
}

/// Codes above 127 do not fit the old 8-bit field, which then holds 127: the larger one counts.
fn operator_code(table: &Table<'_>) -> Result<i32, TfliteError> {
    Ok(i32::from(table.i8(0, 0)?).max(table.i32(3, 0)?))
}

fn operator_kind(code: i32, operator: &Table<'_>) -> Result<OperatorKind, TfliteError> {
    let options = operator.table(4)?;
    let with_options = || options.ok_or(TfliteError::Inconsistent("an operator lacks its options"));
    Ok(match code {
        0 => OperatorKind::Add(match options {
            Some(options) => activation(&options, 0)?,
            None => Activation::None,
        }),
        2 => {
            let options = with_options()?;
            if activation(&options, 1)? != Activation::None {
                return Err(TfliteError::Unsupported(
                    "an activation after joining".into(),
                ));
            }
            OperatorKind::Concatenate {
                axis: options.i32(0, 0)?,
            }
        }
        3 => {
            let options = with_options()?;
            OperatorKind::Convolve(Convolution {
                stride: (options.positive(2, 0)?, options.positive(1, 0)?),
                dilation: (options.positive(5, 1)?, options.positive(4, 1)?),
                padding: padding(&options)?,
                activation: activation(&options, 3)?,
            })
        }
        4 => {
            let options = with_options()?;
            OperatorKind::ConvolveDepthwise(Convolution {
                stride: (options.positive(2, 0)?, options.positive(1, 0)?),
                dilation: (options.positive(6, 1)?, options.positive(5, 1)?),
                padding: padding(&options)?,
                activation: activation(&options, 4)?,
            })
        }
        5 => OperatorKind::DepthToSpace {
            block: with_options()?.positive(0, 0)?,
        },
        6 => OperatorKind::Dequantize,
        14 => OperatorKind::Sigmoid,
        17 => {
            let options = with_options()?;
            if activation(&options, 5)? != Activation::None {
                return Err(TfliteError::Unsupported(
                    "an activation after pooling".into(),
                ));
            }
            OperatorKind::MaxPool {
                filter: (options.positive(4, 0)?, options.positive(3, 0)?),
                stride: (options.positive(2, 0)?, options.positive(1, 0)?),
                padding: padding(&options)?,
            }
        }
        22 => OperatorKind::Reshape,
        23 => {
            let options = with_options()?;
            OperatorKind::ResizeBilinear(if options.i8(2, 0)? != 0 {
                ResizeGrid::AlignedCorners
            } else if options.i8(3, 0)? != 0 {
                ResizeGrid::HalfPixel
            } else {
                ResizeGrid::Asymmetric
            })
        }
        34 => OperatorKind::Pad,
        124 => OperatorKind::Densify,
        other => return Err(TfliteError::Unsupported(format!("operator {other}"))),
    })
}

fn padding(options: &Table<'_>) -> Result<Padding, TfliteError> {
    match options.i8(0, 0)? {
        0 => Ok(Padding::Same),
        1 => Ok(Padding::Valid),
        other => Err(TfliteError::Unsupported(format!("padding {other}"))),
    }
}

fn activation(options: &Table<'_>, field: usize) -> Result<Activation, TfliteError> {
    match options.i8(field, 0)? {
        0 => Ok(Activation::None),
        1 => Ok(Activation::Relu),
        3 => Ok(Activation::Relu6),
        other => Err(TfliteError::Unsupported(format!("activation {other}"))),
    }
}

fn tensor_indices(indices: &[i32], tensors: usize) -> Result<Vec<usize>, TfliteError> {
    indices
        .iter()
        .map(|&index| usize::try_from(index).ok().filter(|&index| index < tensors))
        .collect::<Option<_>>()
        .ok_or(TfliteError::Inconsistent("a missing tensor is named"))
}
