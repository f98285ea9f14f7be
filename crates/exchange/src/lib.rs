//! What was measured in forms that other programs read: tables as CSV (RFC 4180) and Parquet, and a body's motion as C3D; the page
//! that says what lies in an export; what players send back; and [`recorded`] motion of other systems, read. Values in, bytes out; the same values give the same bytes. What each column and axis means: `docs/open-data.md`.

mod bundle;
mod bvh;
mod c3d;
mod index;
mod motion;
mod parquet;
pub mod recorded;
mod tables;

pub use bundle::{Answers, Bundle, BundleError, BundledClip, MANIFEST, MOST_CLIP_BYTES, Manifest};
pub use bvh::{Bvh, bvh};
pub use c3d::c3d;
pub use index::{Index, IndexPlayer, IndexSwing, index_page};
pub use motion::{Mark, Motion};
pub use tables::{Cell, Kind, SwingRow, Table, measures, moments, swings};

/// Why a motion or table could not be written.
#[derive(Debug, thiserror::Error)]
pub enum ExchangeError {
    /// A motion without instants, or whose instants have different numbers of points.
    #[error("a motion needs two instants or more, each with the same points")]
    Uneven,
    /// More than the format counts.
    #[error("{what}: {count}, more than the {most} that a C3D file holds")]
    TooMany {
        /// What there is too much of.
        what: &'static str,
        /// How many.
        count: usize,
        /// The most there may be.
        most: usize,
    },
    /// A point of the body that is not known throughout.
    #[error("the body has no {0} throughout the motion")]
    NoPoint(&'static str),
    /// The table could not be written.
    #[error("could not write a table")]
    Table(#[from] csv::Error),
    /// The table could not be written as Parquet.
    #[error("could not write a table as Parquet")]
    Parquet(#[from] ::parquet::errors::ParquetError),
    /// A name could not be written.
    #[error("could not write a name")]
    Name(#[from] serde_json::Error),
}
