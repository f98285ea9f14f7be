//! A TensorFlow Lite network as the bytes of an ONNX model, which ONNX Runtime runs.
//!
//! TensorFlow Lite keeps images as NHWC (batch, row, column, channel), ONNX as NCHW: 4-dimensional
//! tensors, the model's input and outputs among them, change their order; others keep it.

mod protobuf;
mod writer;

use crate::tflite::{
    Activation, Convolution, Graph, Operator, OperatorKind, Padding, ResizeGrid, TfliteError,
    Weights,
};
use writer::{Attribute, ModelWriter};

/// Name of the model's input.
pub(crate) const INPUT: &str = "input";

/// Name of the n-th of the outputs kept.
pub(crate) fn output_name(n: usize) -> String {
    format!("output{n}")
}

/// Converts the part of `graph` on which the outputs numbered `keep` (in the file's order) depend.
///
/// # Errors
/// When the graph contradicts itself or uses an operator in a way not known here.
pub(crate) fn convert(graph: &Graph<'_>, keep: &[usize]) -> Result<Vec<u8>, TfliteError> {
    let kept = keep
        .iter()
        .map(|&output| graph.outputs.get(output).copied())
        .collect::<Option<Vec<_>>>()
        .ok_or(TfliteError::Inconsistent("an expected output is missing"))?;
    let [input] = graph.inputs[..] else {
        return Err(TfliteError::Unsupported("several inputs".into()));
    };
    let needed = graph.operators_needed_for(&kept);
    let mut conversion = Conversion {
        graph,
        weights: Weights::of(graph, &needed)?,
        input,
        model: ModelWriter::default(),
    };
    conversion
        .model
        .input(INPUT, &nchw_shape(&graph.tensors[input].shape));
    for (operator, needed) in graph.operators.iter().zip(needed) {
        if needed {
            conversion.convert(operator)?;
        }
    }
    for (n, &tensor) in kept.iter().enumerate() {
        let name = output_name(n);
        let source = conversion.name(tensor);
        conversion.model.node("Identity", &[&source], &name, &[]);
        let shape = nchw_shape(&graph.tensors[tensor].shape);
        conversion.model.output(&name, &shape);
    }
    Ok(conversion.model.finish())
}

struct Conversion<'a> {
    graph: &'a Graph<'a>,
    weights: Weights,
    input: usize,
    model: ModelWriter,
}

impl Conversion<'_> {
    fn convert(&mut self, operator: &Operator) -> Result<(), TfliteError> {
        match operator.kind {
            // `Weights` has unpacked them.
            OperatorKind::Densify | OperatorKind::Dequantize => Ok(()),
            OperatorKind::Add(activation) => self.add(operator, activation),
            OperatorKind::Concatenate { axis } => self.concatenate(operator, axis),
            OperatorKind::Convolve(settings) => self.convolve(operator, settings, false),
            OperatorKind::ConvolveDepthwise(settings) => self.convolve(operator, settings, true),
            OperatorKind::DepthToSpace { block } => {
                self.depth_to_space(operator, block);
                Ok(())
            }
            OperatorKind::MaxPool {
                filter,
                stride,
                padding,
            } => self.max_pool(operator, filter, stride, padding),
            OperatorKind::Pad => self.pad(operator),
            OperatorKind::Reshape => self.reshape(operator),
            OperatorKind::ResizeBilinear(grid) => self.resize(operator, grid),
            OperatorKind::Sigmoid => {
                self.simple("Sigmoid", operator, &[]);
                Ok(())
            }
        }
    }

    /// Name of a tensor within the model.
    fn name(&self, tensor: usize) -> String {
        if tensor == self.input {
            INPUT.to_owned()
        } else {
            format!("t{tensor}")
        }
    }

    fn simple(&mut self, name: &str, operator: &Operator, attributes: &[(&str, Attribute<'_>)]) {
        let inputs: Vec<String> = operator.inputs.iter().map(|&t| self.name(t)).collect();
        let inputs: Vec<&str> = inputs.iter().take(1).map(String::as_str).collect();
        let output = self.name(operator.output);
        self.model.node(name, &inputs, &output, attributes);
    }

    /// A node followed by its activation.
    fn activated(
        &mut self,
        name: &str,
        inputs: &[&str],
        output: usize,
        attributes: &[(&str, Attribute<'_>)],
        activation: Activation,
    ) {
        let output = self.name(output);
        let before = format!("{output}_before");
        match activation {
            Activation::None => self.model.node(name, inputs, &output, attributes),
            Activation::Relu => {
                self.model.node(name, inputs, &before, attributes);
                self.model.node("Relu", &[&before], &output, &[]);
            }
            Activation::Relu6 => {
                let (low, high) = (format!("{output}_low"), format!("{output}_high"));
                self.model.floats(&low, &[], &[0.0]);
                self.model.floats(&high, &[], &[6.0]);
                self.model.node(name, inputs, &before, attributes);
                self.model
                    .node("Clip", &[&before, &low, &high], &output, &[]);
            }
        }
    }

    fn add(&mut self, operator: &Operator, activation: Activation) -> Result<(), TfliteError> {
        let [left, right] = inputs(operator)?;
        let constant = [left, right].iter().any(|&t| self.weights.get(t).is_some());
        if constant || self.graph.tensors[left].shape != self.graph.tensors[right].shape {
            return Err(TfliteError::Unsupported(
                "addition of unlike tensors".into(),
            ));
        }
        let (left, right) = (self.name(left), self.name(right));
        self.activated("Add", &[&left, &right], operator.output, &[], activation);
        Ok(())
    }

    fn concatenate(&mut self, operator: &Operator, axis: i32) -> Result<(), TfliteError> {
        const NHWC_AXIS_IN_NCHW: [i64; 4] = [0, 2, 3, 1];
        let rank = self.graph.tensors[operator.output].shape.len();
        let axis = if axis < 0 { axis + rank as i32 } else { axis };
        let axis = usize::try_from(axis)
            .ok()
            .filter(|&axis| axis < rank)
            .ok_or(TfliteError::Inconsistent(
                "tensors are joined along no axis",
            ))?;
        let axis = if rank == 4 {
            NHWC_AXIS_IN_NCHW[axis]
        } else {
            axis as i64
        };
        let names: Vec<String> = operator.inputs.iter().map(|&t| self.name(t)).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let output = self.name(operator.output);
        self.model
            .node("Concat", &names, &output, &[("axis", Attribute::Int(axis))]);
        Ok(())
    }

    fn convolve(
        &mut self,
        operator: &Operator,
        settings: Convolution,
        depthwise: bool,
    ) -> Result<(), TfliteError> {
        let (&image, &filter) = match &operator.inputs[..] {
            [image, filter] | [image, filter, _] => (image, filter),
            _ => return Err(TfliteError::Inconsistent("a convolution lacks its inputs")),
        };
        let [_, rows, columns, channels] = self.graph.tensors[image].nhwc()?;
        let filter_shape = self.graph.tensors[filter].nhwc()?;
        let filter_values = self
            .weights
            .get(filter)
            .ok_or(TfliteError::Inconsistent("a convolution lacks its weights"))?;
        let [_, filter_rows, filter_columns, last] = filter_shape;
        if last != channels || (depthwise && filter_shape[0] != 1) {
            return Err(TfliteError::Unsupported("a channel multiplier".into()));
        }
        let (shape, values) = if depthwise {
            depthwise_filter(filter_shape, filter_values)
        } else {
            full_filter(filter_shape, filter_values)
        };
        let filter_name = format!("{}_filter", self.name(operator.output));
        self.model.floats(&filter_name, &shape, &values);

        let mut names = vec![self.name(image), filter_name];
        if let Some(&bias) = operator.inputs.get(2) {
            let bias_values = self
                .weights
                .get(bias)
                .filter(|values| values.len() == shape[0])
                .ok_or(TfliteError::Inconsistent("a convolution lacks its bias"))?
                .to_vec();
            let bias_name = format!("{}_bias", self.name(operator.output));
            self.model
                .floats(&bias_name, &[bias_values.len()], &bias_values);
            names.push(bias_name);
        }
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let pads = pads(
            (rows, columns),
            (filter_rows, filter_columns),
            settings.stride,
            settings.dilation,
            settings.padding,
        )?;
        let group = if depthwise { channels as i64 } else { 1 };
        self.activated(
            "Conv",
            &names,
            operator.output,
            &[
                ("strides", Attribute::Ints(&pair(settings.stride))),
                ("pads", Attribute::Ints(&pads)),
                ("dilations", Attribute::Ints(&pair(settings.dilation))),
                (
                    "kernel_shape",
                    Attribute::Ints(&pair((filter_rows, filter_columns))),
                ),
                ("group", Attribute::Int(group)),
            ],
            settings.activation,
        );
        Ok(())
    }

    fn depth_to_space(&mut self, operator: &Operator, block: usize) {
        self.simple(
            "DepthToSpace",
            operator,
            &[
                ("blocksize", Attribute::Int(block as i64)),
                ("mode", Attribute::Text("DCR")),
            ],
        );
    }

    fn max_pool(
        &mut self,
        operator: &Operator,
        filter: (usize, usize),
        stride: (usize, usize),
        padding: Padding,
    ) -> Result<(), TfliteError> {
        let [image] = inputs(operator)?;
        let [_, rows, columns, _] = self.graph.tensors[image].nhwc()?;
        let pads = pads((rows, columns), filter, stride, (1, 1), padding)?;
        self.simple(
            "MaxPool",
            operator,
            &[
                ("kernel_shape", Attribute::Ints(&pair(filter))),
                ("strides", Attribute::Ints(&pair(stride))),
                ("pads", Attribute::Ints(&pads)),
            ],
        );
        Ok(())
    }

    /// ONNX lists all paddings before, then all paddings after.
    fn pad(&mut self, operator: &Operator) -> Result<(), TfliteError> {
        let [image, amounts] = inputs(operator)?;
        self.graph.tensors[image].nhwc()?;
        let amounts: Vec<i64> = self.graph.tensors[amounts]
            .integers()?
            .into_iter()
            .map(i64::from)
            .collect();
        let [n0, n1, r0, r1, c0, c1, d0, d1] = amounts[..] else {
            return Err(TfliteError::Inconsistent("padding is not 4 pairs"));
        };
        let name = format!("{}_padding", self.name(operator.output));
        self.model
            .integers(&name, &[n0, d0, r0, c0, n1, d1, r1, c1]);
        let (image, output) = (self.name(image), self.name(operator.output));
        self.model.node(
            "Pad",
            &[&image, &name],
            &output,
            &[("mode", Attribute::Text("constant"))],
        );
        Ok(())
    }

    /// A 4-dimensional tensor goes back to NHWC first, so that the values keep the file's order.
    fn reshape(&mut self, operator: &Operator) -> Result<(), TfliteError> {
        const NCHW_TO_NHWC: [i64; 4] = [0, 2, 3, 1];
        let &image = operator
            .inputs
            .first()
            .ok_or(TfliteError::Inconsistent("a reshape lacks its input"))?;
        let shape = &self.graph.tensors[operator.output].shape;
        if shape.len() == 4 {
            return Err(TfliteError::Unsupported("reshaping to an image".into()));
        }
        let output = self.name(operator.output);
        let mut source = self.name(image);
        if self.graph.tensors[image].shape.len() == 4 {
            let reordered = format!("{output}_nhwc");
            self.model.node(
                "Transpose",
                &[&source],
                &reordered,
                &[("perm", Attribute::Ints(&NCHW_TO_NHWC))],
            );
            source = reordered;
        }
        let shape_name = format!("{output}_shape");
        let shape: Vec<i64> = shape.iter().map(|&size| size as i64).collect();
        self.model.integers(&shape_name, &shape);
        self.model
            .node("Reshape", &[&source, &shape_name], &output, &[]);
        Ok(())
    }

    fn resize(&mut self, operator: &Operator, grid: ResizeGrid) -> Result<(), TfliteError> {
        let &image = operator
            .inputs
            .first()
            .ok_or(TfliteError::Inconsistent("a resize lacks its input"))?;
        let [batch, rows, columns, channels] = self.graph.tensors[operator.output].nhwc()?;
        let (image, output) = (self.name(image), self.name(operator.output));
        let size = format!("{output}_size");
        self.model.integers(
            &size,
            &[batch as i64, channels as i64, rows as i64, columns as i64],
        );
        let grid = match grid {
            ResizeGrid::AlignedCorners => "align_corners",
            ResizeGrid::HalfPixel => "half_pixel",
            ResizeGrid::Asymmetric => "asymmetric",
        };
        self.model.node(
            "Resize",
            &[&image, "", "", &size],
            &output,
            &[
                ("mode", Attribute::Text("linear")),
                ("coordinate_transformation_mode", Attribute::Text(grid)),
            ],
        );
        Ok(())
    }
}

/// The operator's inputs, when there are exactly `N`.
fn inputs<const N: usize>(operator: &Operator) -> Result<[usize; N], TfliteError> {
    operator.inputs[..]
        .try_into()
        .map_err(|_| TfliteError::Inconsistent("an operator has too few or too many inputs"))
}

fn pair((rows, columns): (usize, usize)) -> [i64; 2] {
    [rows as i64, columns as i64]
}

fn nchw_shape(shape: &[usize]) -> Vec<usize> {
    match *shape {
        [n, rows, columns, channels] => vec![n, channels, rows, columns],
        _ => shape.to_vec(),
    }
}

/// Padding in ONNX order: top, left, bottom, right.
fn pads(
    size: (usize, usize),
    filter: (usize, usize),
    stride: (usize, usize),
    dilation: (usize, usize),
    padding: Padding,
) -> Result<[i64; 4], TfliteError> {
    let (top, bottom) = pads_along(size.0, filter.0, stride.0, dilation.0, padding)?;
    let (left, right) = pads_along(size.1, filter.1, stride.1, dilation.1, padding)?;
    Ok([top, left, bottom, right])
}

/// "Same" padding: total = (⌈size / stride⌉ − 1) · stride + (filter − 1) · dilation + 1 − size,
/// not below 0; the smaller half comes first.
fn pads_along(
    size: usize,
    filter: usize,
    stride: usize,
    dilation: usize,
    padding: Padding,
) -> Result<(i64, i64), TfliteError> {
    if padding == Padding::Valid {
        return Ok((0, 0));
    }
    let total = (size.div_ceil(stride) - 1)
        .checked_mul(stride)
        .zip((filter - 1).checked_mul(dilation))
        .and_then(|(walked, reach)| walked.checked_add(reach)?.checked_add(1))
        .ok_or(TfliteError::Inconsistent("a filter is far too large"))?
        .saturating_sub(size);
    let before = total / 2;
    Ok((before as i64, (total - before) as i64))
}

/// From (output, row, column, input) to (output, input, row, column).
fn full_filter(
    [outputs, rows, columns, inputs]: [usize; 4],
    values: &[f32],
) -> ([usize; 4], Vec<f32>) {
    let area = rows * columns;
    let mut reordered = vec![0.0; values.len()];
    for output in 0..outputs {
        for place in 0..area {
            for input in 0..inputs {
                reordered[(output * inputs + input) * area + place] =
                    values[(output * area + place) * inputs + input];
            }
        }
    }
    ([outputs, inputs, rows, columns], reordered)
}

/// From (1, row, column, channel) to (channel, 1, row, column).
fn depthwise_filter(
    [_, rows, columns, channels]: [usize; 4],
    values: &[f32],
) -> ([usize; 4], Vec<f32>) {
    let area = rows * columns;
    let mut reordered = vec![0.0; area * channels];
    for place in 0..area {
        for channel in 0..channels {
            reordered[channel * area + place] = values[place * channels + channel];
        }
    }
    ([channels, 1, rows, columns], reordered)
}
