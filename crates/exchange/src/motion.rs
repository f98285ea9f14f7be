//! Named points over time.

use crate::ExchangeError;

/// Points moving in a right-handed frame with y up; m.
#[derive(Clone, Debug, PartialEq)]
pub struct Motion {
    /// Instants a second.
    pub rate_hz: f64,
    /// Name of each point.
    pub names: Vec<String>,
    /// For each instant, each point: x, y, z, m. `None` where it is not known.
    pub instants: Vec<Vec<Option<[f64; 3]>>>,
    /// What happens when.
    pub marks: Vec<Mark>,
}

/// An event.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Its name.
    pub name: String,
    /// From the first instant, s.
    pub time_s: f64,
}

impl Motion {
    pub(crate) fn check(&self) -> Result<(), ExchangeError> {
        let even = self
            .instants
            .iter()
            .all(|points| points.len() == self.names.len());
        match self.instants.len() >= 2 && even && self.rate_hz > 0.0 && self.rate_hz.is_finite() {
            true => Ok(()),
            false => Err(ExchangeError::Uneven),
        }
    }
}
