//! The constants of a network in single precision, whatever way the file stores them.

use super::half::f32_from_f16;
use super::{Element, Graph, OperatorKind, Tensor, TfliteError, sparse};
use std::collections::HashMap;

/// Constant tensors by index, dense, in the file's (NHWC) order.
#[derive(Debug)]
pub(crate) struct Weights(HashMap<usize, Vec<f32>>);

impl Weights {
    /// Reads every constant that the operators marked in `needed` use, and carries out those
    /// operators that only unpack constants.
    ///
    /// # Errors
    /// When a constant's size contradicts its shape or its sparse layout is wrong.
    pub(crate) fn of(graph: &Graph<'_>, needed: &[bool]) -> Result<Self, TfliteError> {
        let mut weights = Weights(HashMap::new());
        for (operator, _) in graph.operators.iter().zip(needed).filter(|(_, n)| **n) {
            for &input in &operator.inputs {
                weights.read(graph, input)?;
            }
            if matches!(
                operator.kind,
                OperatorKind::Densify | OperatorKind::Dequantize
            ) {
                // Reading has already made the values dense and single precision.
                let packed = operator
                    .inputs
                    .first()
                    .and_then(|input| weights.0.get(input));
                let unpacked = packed
                    .ok_or_else(|| TfliteError::Unsupported("unpacking of variables".into()))?
                    .clone();
                check_size(&unpacked, &graph.tensors[operator.output])?;
                weights.0.insert(operator.output, unpacked);
            }
        }
        Ok(weights)
    }

    /// The constant with this tensor index.
    pub(crate) fn get(&self, tensor: usize) -> Option<&[f32]> {
        self.0.get(&tensor).map(Vec::as_slice)
    }

    fn read(&mut self, graph: &Graph<'_>, index: usize) -> Result<(), TfliteError> {
        let tensor = &graph.tensors[index];
        if tensor.data.is_empty() || self.0.contains_key(&index) {
            return Ok(());
        }
        let stored: Vec<f32> = match tensor.element {
            Element::Float32 => {
                let chunks = tensor.data.as_chunks().0;
                chunks.iter().map(|&b| f32::from_le_bytes(b)).collect()
            }
            Element::Float16 => {
                let chunks = tensor.data.as_chunks().0;
                chunks
                    .iter()
                    .map(|&b| f32_from_f16(u16::from_le_bytes(b)))
                    .collect()
            }
            Element::Int32 | Element::Other => return Ok(()),
        };
        let values = match &tensor.sparsity {
            Some(sparsity) => sparse::densify(tensor, sparsity, &stored)?,
            None => stored,
        };
        check_size(&values, tensor)?;
        self.0.insert(index, values);
        Ok(())
    }
}

fn check_size(values: &[f32], tensor: &Tensor<'_>) -> Result<(), TfliteError> {
    if values.len() != tensor.elements()? {
        return Err(TfliteError::Inconsistent(
            "a constant's size contradicts its shape",
        ));
    }
    Ok(())
}
