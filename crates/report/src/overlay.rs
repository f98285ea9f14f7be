//! What is drawn over a picture: the golfer's figure, and the line that the check of its view is
//! about, as it was at address and as it is now. Points are px of the picture.

use crate::content::Pose;
use crate::crop::Crop;
use lessonwright_model::{BodyPart, Hand, Joint, MeasureName, PixelPoint, Side, View};

/// A straight stroke.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Where it starts.
    pub from: PixelPoint,
    /// Where it ends.
    pub to: PixelPoint,
}

/// Everything over one picture. What can't be drawn for want of a landmark is left out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Overlay {
    /// Trunk, arms and legs.
    pub figure: Vec<Stroke>,
    /// The club, from the grip.
    pub club: Option<Stroke>,
    /// Joints of the figure.
    pub joints: Vec<PixelPoint>,
    /// The pelvis line (face-on) or the knee line (down the line) at address.
    pub before: Option<Stroke>,
    /// The same line now; `None` at address itself, where it would hide `before`.
    pub now: Option<Stroke>,
    /// Face-on: from the pelvis line at address to where it is now, if that can be seen.
    pub shift: Option<Stroke>,
    /// Down the line: the line through the middle of the trunk's trail side.
    pub trunk_side: Option<Stroke>,
    /// Down the line: from that line to the trail elbow, level with the elbow.
    pub elbow: Option<Stroke>,
}

/// Half the length of the pelvis line, in trunk lengths (mid-shoulder to mid-hip). By eye: long
/// enough to be seen behind a skirt or a jacket, short of the arms.
const PELVIS_LINE: f64 = 0.55;

/// How far the knee line is drawn beyond the knees, in distances between them. By eye.
const BEYOND_KNEES: f64 = 0.5;

/// How far the trunk's side line is drawn beyond shoulder and hip. By eye.
const BEYOND_TRUNK: f64 = 0.15;

/// The shortest shift that gets an arrow, in trunk lengths: about 1 cm of a 50 cm trunk, below
/// which the arrow's head is longer than the arrow.
const SHORTEST_SHIFT: f64 = 0.02;

const LIMBS: [(BodyPart, BodyPart); 6] = [
    (BodyPart::Shoulder, BodyPart::Elbow),
    (BodyPart::Elbow, BodyPart::Wrist),
    (BodyPart::Shoulder, BodyPart::Hip),
    (BodyPart::Hip, BodyPart::Knee),
    (BodyPart::Knee, BodyPart::Ankle),
    (BodyPart::Ankle, BodyPart::Toe),
];

const DOTS: [BodyPart; 6] = [
    BodyPart::Shoulder,
    BodyPart::Elbow,
    BodyPart::Wrist,
    BodyPart::Hip,
    BodyPart::Knee,
    BodyPart::Ankle,
];

impl Overlay {
    /// The club and the lines that one measure is about, without the figure.
    pub fn only(&self, measure: MeasureName) -> Overlay {
        let whole = self.clone();
        let lines = match measure {
            MeasureName::PelvisShift => Overlay {
                trunk_side: None,
                elbow: None,
                ..whole
            },
            MeasureName::KneeLineTurn => Overlay {
                shift: None,
                trunk_side: None,
                elbow: None,
                ..whole
            },
            MeasureName::TrailElbowAhead => Overlay {
                before: None,
                now: None,
                shift: None,
                ..whole
            },
            // Nothing is drawn for the others yet: the figure says most.
            _ => return self.clone(),
        };
        Overlay {
            figure: Vec::new(),
            joints: Vec::new(),
            ..lines
        }
    }
}

/// Draws over `now`; `address` is how the golfer stood at address in the same view, if that was seen.
pub fn overlay(
    now: Pose<'_>,
    address: Option<Pose<'_>>,
    hand: Hand,
    crop: Crop,
    scale: f64,
) -> Overlay {
    let body = Seen {
        pose: now,
        hand,
        crop,
        scale,
    };
    let before = address.map(|pose| Seen { pose, ..body });
    let is_address = address == Some(now);
    let mut drawn = Overlay {
        figure: body.figure(),
        club: body.club(),
        joints: body.joints(),
        ..Overlay::default()
    };
    match now.view {
        View::FaceOn => {
            // The line's length is taken at address and kept, so that only its place changes.
            let half = before.or(Some(body)).and_then(|b| b.trunk_length());
            let line = |b: Seen<'_>| Some(upright(b.middle(BodyPart::Hip)?, PELVIS_LINE * half?));
            drawn.before = before.and_then(line);
            if !is_address {
                drawn.now = line(body);
                drawn.shift = before.and_then(|b| shift(b, body));
            }
        }
        View::DownTheLine => {
            drawn.before = before.and_then(Seen::knee_line);
            if !is_address {
                drawn.now = body.knee_line();
                drawn.trunk_side = body.trunk_side();
                drawn.elbow = body.elbow_distance();
            }
        }
    }
    drawn
}

/// True if the target lies to the left in a face-on picture. Read from the picture itself, since a
/// phone may have mirrored it.
pub fn target_is_left(address: Pose<'_>, hand: Hand) -> Option<bool> {
    let lead = address.landmark(Joint::of(BodyPart::Hip, Side::Lead, hand))?;
    let trail = address.landmark(Joint::of(BodyPart::Hip, Side::Trail, hand))?;
    (address.view == View::FaceOn).then_some(lead.x < trail.x)
}

/// True if the ball lies to the left in a picture down the line: the way the toes point from the
/// ankles.
pub fn ball_is_left(address: Pose<'_>, hand: Hand) -> Option<bool> {
    let x = |part, side| Some(address.landmark(Joint::of(part, side, hand))?.x);
    let middle = |part| Some(0.5 * (x(part, Side::Lead)? + x(part, Side::Trail)?));
    let left = middle(BodyPart::Toe)? < middle(BodyPart::Ankle)?;
    (address.view == View::DownTheLine).then_some(left)
}

/// One golfer as seen in one picture, for asking points in picture pixels.
#[derive(Clone, Copy)]
struct Seen<'a> {
    pose: Pose<'a>,
    hand: Hand,
    crop: Crop,
    scale: f64,
}

impl Seen<'_> {
    fn at(self, part: BodyPart, side: Side) -> Option<PixelPoint> {
        let point = self.pose.landmark(Joint::of(part, side, self.hand))?;
        Some(self.crop.to_picture(point, self.scale))
    }

    fn middle(self, part: BodyPart) -> Option<PixelPoint> {
        Some(
            self.at(part, Side::Lead)?
                .midpoint(self.at(part, Side::Trail)?),
        )
    }

    fn trunk_length(self) -> Option<f64> {
        Some(
            self.middle(BodyPart::Shoulder)?
                .distance(self.middle(BodyPart::Hip)?),
        )
    }

    fn figure(self) -> Vec<Stroke> {
        let across = [BodyPart::Shoulder, BodyPart::Hip]
            .map(|part| (self.at(part, Side::Lead), self.at(part, Side::Trail)));
        let along = [Side::Lead, Side::Trail]
            .into_iter()
            .flat_map(|side| LIMBS.map(|(a, b)| (self.at(a, side), self.at(b, side))));
        across
            .into_iter()
            .chain(along)
            .filter_map(|(from, to)| {
                Some(Stroke {
                    from: from?,
                    to: to?,
                })
            })
            .collect()
    }

    fn club(self) -> Option<Stroke> {
        let [from, to] = self.pose.club?;
        let place = |at| self.crop.to_picture(at, self.scale);
        Some(Stroke {
            from: place(from),
            to: place(to),
        })
    }

    fn joints(self) -> Vec<PixelPoint> {
        [Side::Lead, Side::Trail]
            .into_iter()
            .flat_map(|side| DOTS.map(|part| self.at(part, side)))
            .flatten()
            .collect()
    }

    fn knee_line(self) -> Option<Stroke> {
        let (lead, trail) = (
            self.at(BodyPart::Knee, Side::Lead)?,
            self.at(BodyPart::Knee, Side::Trail)?,
        );
        Some(lengthen(lead, trail, BEYOND_KNEES))
    }

    fn trunk_side(self) -> Option<Stroke> {
        let shoulder = self.at(BodyPart::Shoulder, Side::Trail)?;
        let hip = self.at(BodyPart::Hip, Side::Trail)?;
        Some(lengthen(shoulder, hip, BEYOND_TRUNK))
    }

    fn elbow_distance(self) -> Option<Stroke> {
        let elbow = self.at(BodyPart::Elbow, Side::Trail)?;
        Some(Stroke {
            from: at_height(self.trunk_side()?, elbow.y)?,
            to: elbow,
        })
    }
}

/// From the pelvis at address to the pelvis now, level with it now.
fn shift(before: Seen<'_>, now: Seen<'_>) -> Option<Stroke> {
    let to = now.middle(BodyPart::Hip)?;
    let from = PixelPoint {
        x: before.middle(BodyPart::Hip)?.x,
        y: to.y,
    };
    (from.distance(to) >= SHORTEST_SHIFT * before.trunk_length()?).then_some(Stroke { from, to })
}

fn upright(middle: PixelPoint, half: f64) -> Stroke {
    Stroke {
        from: PixelPoint {
            y: middle.y - half,
            ..middle
        },
        to: PixelPoint {
            y: middle.y + half,
            ..middle
        },
    }
}

fn lengthen(a: PixelPoint, b: PixelPoint, share: f64) -> Stroke {
    let (dx, dy) = (share * (b.x - a.x), share * (b.y - a.y));
    Stroke {
        from: PixelPoint {
            x: a.x - dx,
            y: a.y - dy,
        },
        to: PixelPoint {
            x: b.x + dx,
            y: b.y + dy,
        },
    }
}

/// The point of a line at height `y`; `None` for a level line.
fn at_height(line: Stroke, y: f64) -> Option<PixelPoint> {
    let rise = line.to.y - line.from.y;
    let t = (y - line.from.y) / rise;
    t.is_finite().then_some(PixelPoint {
        x: line.from.x + t * (line.to.x - line.from.x),
        y,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::content::KeyPicture;
    use lessonwright_model::{MomentName, Picture};

    const WHOLE: Crop = Crop {
        left: 0,
        top: 0,
        width: 400,
        height: 400,
    };

    #[test]
    fn the_arrow_runs_from_address_to_now() {
        let address = face_on(MomentName::Address, 200.0);
        let top = face_on(MomentName::Top, 180.0);
        let drawn = overlay(top.pose(), Some(address.pose()), Hand::Right, WHOLE, 1.0);
        let shift = drawn.shift.unwrap();
        assert_eq!((shift.from.x, shift.to.x), (200.0, 180.0));
        assert_eq!(shift.from.y, shift.to.y);
        assert_eq!(drawn.before.unwrap().from.x, 200.0);
        assert_eq!(drawn.now.unwrap().from.x, 180.0);
    }

    #[test]
    fn a_mirrored_picture_gets_the_mirrored_drawing() {
        let address = face_on(MomentName::Address, 200.0);
        let top = face_on(MomentName::Top, 180.0);
        let plain = overlay(top.pose(), Some(address.pose()), Hand::Right, WHOLE, 1.0);
        let mirrored = overlay(
            mirror(&top).pose(),
            Some(mirror(&address).pose()),
            Hand::Left,
            WHOLE,
            1.0,
        );
        let (a, b) = (plain.shift.unwrap(), mirrored.shift.unwrap());
        assert_eq!((400.0 - a.from.x, 400.0 - a.to.x), (b.from.x, b.to.x));
        assert_eq!(plain.figure.len(), mirrored.figure.len());
        assert_eq!(target_is_left(address.pose(), Hand::Right), Some(false));
        assert_eq!(
            target_is_left(mirror(&address).pose(), Hand::Left),
            Some(true)
        );
    }

    #[test]
    fn at_address_there_is_one_line_and_no_arrow() {
        let address = face_on(MomentName::Address, 200.0);
        let drawn = overlay(
            address.pose(),
            Some(address.pose()),
            Hand::Right,
            WHOLE,
            1.0,
        );
        assert!(drawn.before.is_some() && drawn.now.is_none() && drawn.shift.is_none());
    }

    #[test]
    fn a_missing_landmark_leaves_out_only_what_needs_it() {
        let mut address = face_on(MomentName::Address, 200.0);
        let whole = overlay(address.pose(), None, Hand::Right, WHOLE, 1.0)
            .figure
            .len();
        address
            .landmarks
            .retain(|(joint, _)| *joint != Joint::LeftKnee);
        let drawn = overlay(address.pose(), None, Hand::Right, WHOLE, 1.0);
        assert_eq!(drawn.figure.len(), whole - 2, "thigh and shank");
        assert_eq!(drawn.before, None);
    }

    #[test]
    fn the_elbow_is_joined_to_the_trunks_side_at_its_own_height() {
        let mut now = face_on(MomentName::LeadArmLevelDown, 200.0);
        now.view = View::DownTheLine;
        let elbow = overlay(now.pose(), None, Hand::Right, WHOLE, 1.0)
            .elbow
            .unwrap();
        // Trail shoulder (170, 105) to trail hip (180, 200), at y = 150: 170 + 10 × 45 / 95.
        assert!((elbow.from.x - (170.0 + 10.0 * 45.0 / 95.0)).abs() < 1e-9);
        assert_eq!(
            (elbow.from.y, elbow.to),
            (150.0, PixelPoint { x: 160.0, y: 150.0 })
        );
    }

    /// A right-hander seen face-on: the left side is at the right of the picture.
    fn face_on(moment: MomentName, pelvis_x: f64) -> KeyPicture {
        let at = |x: f64, y: f64| PixelPoint { x, y };
        let landmarks = vec![
            (Joint::LeftShoulder, at(230.0, 100.0)),
            (Joint::RightShoulder, at(170.0, 105.0)),
            (Joint::LeftElbow, at(235.0, 150.0)),
            (Joint::RightElbow, at(160.0, 150.0)),
            (Joint::LeftWrist, at(210.0, 190.0)),
            (Joint::RightWrist, at(205.0, 190.0)),
            (Joint::LeftHip, at(pelvis_x + 20.0, 200.0)),
            (Joint::RightHip, at(pelvis_x - 20.0, 200.0)),
            (Joint::LeftKnee, at(235.0, 270.0)),
            (Joint::RightKnee, at(165.0, 270.0)),
            (Joint::LeftAnkle, at(240.0, 350.0)),
            (Joint::RightAnkle, at(160.0, 350.0)),
        ];
        KeyPicture {
            view: View::FaceOn,
            moment,
            picture: Picture {
                width: 0,
                height: 0,
                luma: vec![],
                cb: vec![],
                cr: vec![],
            },
            landmarks,
            club: Some([at(207.0, 195.0), at(215.0, 350.0)]),
        }
    }

    /// The mirror image of a right-hander is a left-hander: left and right change their names.
    fn mirror(picture: &KeyPicture) -> KeyPicture {
        let other = |joint: Joint| match joint {
            Joint::LeftShoulder => Joint::RightShoulder,
            Joint::RightShoulder => Joint::LeftShoulder,
            Joint::LeftElbow => Joint::RightElbow,
            Joint::RightElbow => Joint::LeftElbow,
            Joint::LeftWrist => Joint::RightWrist,
            Joint::RightWrist => Joint::LeftWrist,
            Joint::LeftHip => Joint::RightHip,
            Joint::RightHip => Joint::LeftHip,
            Joint::LeftKnee => Joint::RightKnee,
            Joint::RightKnee => Joint::LeftKnee,
            Joint::LeftAnkle => Joint::RightAnkle,
            Joint::RightAnkle => Joint::LeftAnkle,
            other => other,
        };
        let landmarks = picture
            .landmarks
            .iter()
            .map(|(j, p)| {
                (
                    other(*j),
                    PixelPoint {
                        x: 400.0 - p.x,
                        ..*p
                    },
                )
            })
            .collect();
        let club = picture.club.map(|ends| {
            ends.map(|p| PixelPoint {
                x: 400.0 - p.x,
                ..p
            })
        });
        KeyPicture {
            landmarks,
            club,
            ..picture.clone()
        }
    }
}
