//! A body over time.

use crate::points::Pose;

/// A moving body.
#[derive(Clone, Debug, PartialEq)]
pub struct Motion {
    /// Instants, s, evenly spaced, at least two.
    pub times_s: Vec<f64>,
    /// The body at each instant.
    pub poses: Vec<Pose>,
}

impl Motion {
    /// The body at a time: cubic between instants; `None` outside the motion.
    pub fn pose_at(&self, time_s: f64) -> Option<Pose> {
        let step = self.times_s[1] - self.times_s[0];
        let place = (time_s - self.times_s[0]) / step;
        let last = self.poses.len() - 1;
        if !(-1e-6..=last as f64 + 1e-6).contains(&place) {
            return None;
        }
        let i = (place.max(0.0) as usize).min(last - 1);
        let u = place - i as f64;
        let mut pose = self.poses[i];
        for (point, at) in pose.0.iter_mut().enumerate() {
            let p = |k: usize| self.poses[k.min(last)].0[point];
            // Catmull–Rom; at the ends the slope is that of the last step
            let (a, b) = (p(i), p(i + 1));
            let ma = if i == 0 { b - a } else { 0.5 * (b - p(i - 1)) };
            let mb = if i + 2 > last {
                b - a
            } else {
                0.5 * (p(i + 2) - a)
            };
            *at =
                a + u * (ma + u * (3.0 * (b - a) - 2.0 * ma - mb + u * (2.0 * (a - b) + ma + mb)));
        }
        Some(pose)
    }

    /// The mean of the poses over a stretch of time in which the body is still; at least that of the
    /// instant nearest to its end.
    pub fn mean_over(&self, from_s: f64, to_s: f64) -> Pose {
        let first = self.times_s.partition_point(|t| *t < from_s - 1e-6);
        let end = self.times_s.partition_point(|t| *t <= to_s + 1e-6);
        let end = end.clamp(1, self.poses.len());
        let still = &self.poses[first.min(end - 1)..end];
        let mut mean = still[0];
        for (point, at) in mean.0.iter_mut().enumerate() {
            *at = still.iter().map(|pose| pose.0[point]).sum::<glam::DVec3>() / still.len() as f64;
        }
        mean
    }
}
