//! Sparse weights to dense ones.
//!
//! TensorFlow Lite stores a sparse tensor after the "TACO" scheme (Kjolstad et al. 2017, "The
//! tensor algebra compiler", doi 10.1145/3133901): the dimensions are stored in `traversal_order`;
//! each is dense or compressed (segments and indices, as in a compressed-row matrix). Dimensions
//! beyond the tensor's rank lie inside blocks: `block_map[i]` says which original dimension the
//! i-th block dimension splits.

use super::flatbuffer::Table;
use super::{Tensor, TfliteError};

/// The tensor's values, dense and row-major, from its stored non-zero `values`.
pub(super) fn densify(
    tensor: &Tensor<'_>,
    sparsity: &Table<'_>,
    values: &[f32],
) -> Result<Vec<f32>, TfliteError> {
    let layout = Layout::parse(tensor, sparsity)?;
    let mut filling = Filling {
        layout: &layout,
        shape: &tensor.shape,
        values: values.iter(),
        dense: vec![0.0; tensor.elements()?],
        index: vec![0; layout.levels.len()],
    };
    filling.fill(0, 0)?;
    if filling.values.next().is_some() {
        return Err(TfliteError::Inconsistent("sparse weights are left over"));
    }
    Ok(filling.dense)
}

/// How the stored levels map to the tensor's dimensions.
struct Layout {
    levels: Vec<Level>,
    /// Per level: the dimension that it walks along.
    dimension: Vec<usize>,
    /// Per level: by how much one step of the dimension's earlier index counts.
    block: Vec<usize>,
}

enum Level {
    Dense(usize),
    Compressed {
        segments: Vec<usize>,
        indices: Vec<usize>,
    },
}

impl Layout {
    fn parse(tensor: &Tensor<'_>, sparsity: &Table<'_>) -> Result<Self, TfliteError> {
        const DAMAGED: TfliteError = TfliteError::Inconsistent("a sparse layout is wrong");
        let rank = tensor.shape.len();
        let order = indices_of(sparsity.i32s(0)?)?;
        let block_map = indices_of(sparsity.i32s(1)?)?;
        let levels = sparsity
            .tables(2)?
            .iter()
            .map(Level::parse)
            .collect::<Result<Vec<_>, _>>()?;
        if levels.len() != rank + block_map.len() || order.len() != levels.len() {
            return Err(DAMAGED);
        }
        let mut dimension = Vec::new();
        let mut block = Vec::new();
        for (position, &dim) in order.iter().enumerate() {
            // Outer levels come first, then the blocks' inner ones.
            if position < rank {
                dimension.push(dim);
                block.push(1);
            } else {
                let inner = dim.checked_sub(rank).ok_or(DAMAGED)?;
                let Level::Dense(size) = levels[position] else {
                    return Err(TfliteError::Unsupported("sparse blocks".into()));
                };
                dimension.push(*block_map.get(inner).ok_or(DAMAGED)?);
                block.push(size);
            }
        }
        if dimension.iter().any(|&dim| dim >= rank) {
            return Err(DAMAGED);
        }
        // Bounds the work: dense levels alone cannot take more steps than there are elements.
        let dense_steps = levels.iter().try_fold(1usize, |steps, level| match level {
            Level::Dense(size) => steps.checked_mul(*size),
            Level::Compressed { .. } => Some(steps),
        });
        if dense_steps.is_none_or(|steps| steps > tensor.elements().unwrap_or(0)) {
            return Err(DAMAGED);
        }
        Ok(Layout {
            levels,
            dimension,
            block,
        })
    }
}

impl Level {
    fn parse(table: &Table<'_>) -> Result<Self, TfliteError> {
        Ok(match table.i8(0, 0)? {
            0 => Level::Dense(table.positive(1, 0)?),
            1 => Level::Compressed {
                segments: index_vector(table, 2)?,
                indices: index_vector(table, 4)?,
            },
            other => return Err(TfliteError::Unsupported(format!("sparse format {other}"))),
        })
    }
}

/// A union of index vectors of three widths: field `tag` says which, the next field holds it.
fn index_vector(table: &Table<'_>, tag: usize) -> Result<Vec<usize>, TfliteError> {
    const MISSING: TfliteError = TfliteError::Inconsistent("a sparse index is missing");
    let vector = table.table(tag + 1)?.ok_or(MISSING)?;
    match table.i8(tag, 0)? {
        1 => indices_of(vector.i32s(0)?),
        2 => Ok(vector.u16s(0)?.into_iter().map(usize::from).collect()),
        3 => Ok(vector.bytes(0)?.iter().map(|&b| usize::from(b)).collect()),
        _ => Err(MISSING),
    }
}

fn indices_of(values: Vec<i32>) -> Result<Vec<usize>, TfliteError> {
    values
        .into_iter()
        .map(|value| usize::try_from(value).ok())
        .collect::<Option<_>>()
        .ok_or(TfliteError::Inconsistent("an index is negative"))
}

/// The walk over all levels, outermost first.
struct Filling<'a> {
    layout: &'a Layout,
    shape: &'a [usize],
    values: std::slice::Iter<'a, f32>,
    dense: Vec<f32>,
    index: Vec<usize>,
}

impl Filling<'_> {
    /// `parent` is the position within the level above.
    fn fill(&mut self, level: usize, parent: usize) -> Result<(), TfliteError> {
        let layout = self.layout;
        match layout.levels.get(level) {
            None => self.put_next(),
            Some(Level::Dense(size)) => {
                for i in 0..*size {
                    self.index[level] = i;
                    self.fill(level + 1, parent * size + i)?;
                }
                Ok(())
            }
            Some(Level::Compressed { segments, indices }) => {
                let damaged = TfliteError::Inconsistent("a sparse segment is wrong");
                let (Some(&start), Some(&end)) = (segments.get(parent), segments.get(parent + 1))
                else {
                    return Err(damaged);
                };
                let within = indices.get(start..end).ok_or(damaged)?;
                for (i, &index) in within.iter().enumerate() {
                    self.index[level] = index;
                    self.fill(level + 1, start + i)?;
                }
                Ok(())
            }
        }
    }

    fn put_next(&mut self) -> Result<(), TfliteError> {
        let value = *self
            .values
            .next()
            .ok_or(TfliteError::Inconsistent("sparse weights are missing"))?;
        let mut coordinates = vec![0usize; self.shape.len()];
        for ((&dimension, &block), &index) in self
            .layout
            .dimension
            .iter()
            .zip(&self.layout.block)
            .zip(&self.index)
        {
            let outer = coordinates[dimension];
            coordinates[dimension] = outer.saturating_mul(block).saturating_add(index);
        }
        let mut at = 0usize;
        for (&coordinate, &size) in coordinates.iter().zip(self.shape) {
            if coordinate >= size {
                return Err(TfliteError::Inconsistent("a sparse index is too large"));
            }
            at = at * size + coordinate;
        }
        self.dense[at] = value;
        Ok(())
    }
}
