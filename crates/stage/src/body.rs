//! The player's body in one pose: solids, and for some a skin over them.

use crate::field::{Field, Hit, Part};
use crate::figure::{body_field, ends_field};
use crate::params::SwingParams;
use crate::pose::Pose;
use crate::skin::{Dressed, Skin};
use crate::things::Thing;
use glam::Vec3;
use std::sync::Arc;

/// What makes bodies of one player: kept between poses.
#[derive(Clone, Debug)]
pub struct Player<'a> {
    pub(crate) params: &'a SwingParams,
    dressed: Option<Arc<Dressed>>,
}

/// A body in a pose.
#[derive(Clone, Debug)]
pub struct Body {
    solids: Field,
    skin: Option<Skin>,
}

impl<'a> Player<'a> {
    /// The player that parameters describe.
    pub fn of(params: &'a SwingParams) -> Player<'a> {
        let dressed = params
            .body
            .shape
            .map(|number| Arc::new(Dressed::of(number, params)));
        Player { params, dressed }
    }

    /// The clothed body, and things about it.
    pub fn body(&self, pose: &Pose, things: &[Thing]) -> Body {
        match &self.dressed {
            None => Body {
                solids: body_field(self.params, pose, things),
                skin: None,
            },
            Some(dressed) => Body {
                solids: ends_field(self.params, pose, things),
                skin: Some(Skin::around(dressed.clone(), pose)),
            },
        }
    }
}

impl Body {
    /// The first point of a ray on the body; see [`Field::hit`].
    pub fn hit(&self, origin: Vec3, ray: Vec3, pixel_m_per_m: f32) -> Option<Hit> {
        let solid = self.solids.hit(origin, ray, pixel_m_per_m);
        let Some(skin) = &self.skin else {
            return solid;
        };
        let within = solid.map_or(f32::MAX, |hit| hit.depth);
        skin.hit(origin, ray, within).or(solid)
    }

    /// How much of a light's soft disc is seen from a point; see [`Field::light`].
    pub fn light(&self, origin: Vec3, toward: Vec3, spread: f32) -> f32 {
        let solids = self.solids.light(origin, toward, spread);
        match &self.skin {
            Some(skin) if solids > 0.0 => solids.min(skin.light(origin, toward, spread)),
            _ => solids,
        }
    }

    /// How open the surroundings of a surface point are; see [`Field::openness`].
    pub fn openness(&self, at: Vec3, normal: Vec3) -> f32 {
        let solids = self.solids.openness(at, normal);
        match &self.skin {
            Some(skin) => solids.min(skin.openness(at, normal)),
            None => solids,
        }
    }

    /// Frames of the rigid parts, for patterns fixed to them.
    pub fn parts(&self) -> &[Part] {
        &self.solids.parts
    }

    /// Middles and radii of balls that together hold the body.
    pub fn bounds(&self) -> impl Iterator<Item = (Vec3, f32)> + '_ {
        let skin = self.skin.iter().flat_map(Skin::bounds);
        self.solids.solid_bounds().chain(skin)
    }
}
