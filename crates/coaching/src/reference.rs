//! What one player's measures are held against: the studio's targets, or what the professional chose for the player –
//! an own swing, the professional's model swings, only the own address, only published figures.
//!
//! A choice makes [`Targets`], so findings, ranking and pages need not know of it; the band's source says what it is.
//! Measures are said of lead and trail, so left- and right-handers are held against one another as they are.
//!
//! *Own swing*: the band is that swing's own 95 % interval. Two intervals that do not touch are a difference beyond both
//! errors.
//!
//! *Models*: of n swings with values x the band is
//!
//! ```text
//! m ± t(0.975, n − 1) · s · √(1 + 1/n),   m = median x,  s = max(1.4826 · MAD x, median h / 1.96)
//! ```
//!
//! that is, where 95 of 100 further swings of that kind lie if they are spread normally (the prediction interval with
//! median and scaled median absolute deviation in place of mean and standard deviation; h is the half-width of each
//! measure's own interval, below which no spread can be seen). Few swings make it wide, as they should.

use crate::ball::ClubKind;
use crate::targets::{Basis, Target, Targets};
use lessonwright_math::{mad_sigma, median};
use lessonwright_model::{Hand, Interval, Measure, MeasureState, Sex};

/// Fewest model swings that make a band: of two no spread is known.
pub const FEWEST_MODELS: usize = 3;

/// Fewer model swings than this are called few. Ours.
const FEW: usize = 10;

/// What swings are grouped by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Like {
    /// The kind of club.
    pub club: Option<ClubKind>,
    /// The player's sex.
    pub sex: Option<Sex>,
    /// The player's age, years.
    pub age_years: Option<u32>,
    /// The hand the player plays.
    pub hand: Option<Hand>,
}

/// A model swing.
#[derive(Clone, Copy, Debug)]
pub struct Model<'a> {
    /// Its kind.
    pub like: Like,
    /// A key of whose it is: how many players the models are of is said.
    pub player: i64,
    /// Its measures.
    pub measures: &'a [Measure],
}

/// An earlier or the best swing of the player.
#[derive(Clone, Debug)]
pub struct OwnSwing<'a> {
    /// Its day as it is read ("4 November 2026").
    pub day: String,
    /// Its club.
    pub club: Option<ClubKind>,
    /// Its measures.
    pub measures: &'a [Measure],
}

/// What the professional chose for the player.
#[derive(Clone, Debug)]
pub enum Against<'a> {
    /// All of the studio's targets.
    Standard,
    /// Only the bands around the player's own address.
    OwnAddress,
    /// Only bands that rest on published figures.
    Published,
    /// An own swing; what it has no number for stays with the studio's targets.
    OwnSwing(OwnSwing<'a>),
    /// The models of the player's like; what they are too few for stays with the studio's targets.
    Models(&'a [Model<'a>]),
}

/// The targets for one swing of a player, `like` being what it is grouped by.
pub fn targets_for(standard: Targets, against: &Against<'_>, like: &Like) -> Targets {
    match against {
        Against::Standard => standard,
        Against::OwnAddress => standard.only(&[Basis::OwnAddress]),
        Against::Published => standard.only(&[Basis::Published, Basis::Derived]),
        Against::OwnSwing(own) => standard.after(own_bands(own, like)),
        Against::Models(models) => standard.after(model_bands(models, like)),
    }
}

fn own_bands(own: &OwnSwing<'_>, like: &Like) -> Vec<Target> {
    let same_club = own.club.is_some() && own.club == like.club;
    let doubt = format!(
        "One swing, not a usual one; the band is what it was measured to, so a difference is one beyond both errors.{}",
        if same_club {
            ""
        } else {
            " The clubs differ or were not noted."
        }
    );
    let of = |measure: &Measure| {
        let Interval { low, high } = numbers(measure)?.1;
        (low < high).then(|| Target {
            low,
            high,
            source: format!("The player's own swing of {}.", own.day),
            doubt: doubt.clone(),
            ..band(measure, Basis::OwnSwing)
        })
    };
    surest_of_each_place(own.measures).filter_map(of).collect()
}

fn model_bands(models: &[Model<'_>], like: &Like) -> Vec<Target> {
    let mut places: Vec<&Measure> = Vec::new();
    for measure in models.iter().flat_map(|model| model.measures) {
        if !places.iter().any(|known| same_place(known, measure)) {
            places.push(measure);
        }
    }
    places
        .iter()
        .filter_map(|place| model_band(place, models, like))
        .collect()
}

/// The band of the narrowest group that has enough swings with a number.
fn model_band(place: &Measure, models: &[Model<'_>], like: &Like) -> Option<Target> {
    GROUPS.iter().find_map(|group| {
        let with_numbers = |model: &Model<'_>| {
            let same = surest_of_each_place(model.measures).find(|m| same_place(m, place));
            same.and_then(numbers)
                .map(|(value, interval)| (value, interval, model.player))
        };
        let of_group = models
            .iter()
            .filter(|model| (group.holds)(&model.like, like));
        let found: Vec<(f64, Interval, i64)> = of_group.filter_map(with_numbers).collect();
        let values: Vec<f64> = found.iter().map(|(value, ..)| *value).collect();
        let halves: Vec<f64> = found
            .iter()
            .map(|(_, i, _)| (i.high - i.low) / 2.0)
            .collect();
        let [middle, half_width] = spread(&values, &halves)?;
        let mut players: Vec<i64> = found.iter().map(|(.., player)| *player).collect();
        players.sort_unstable();
        players.dedup();
        let n = values.len();
        let few = match n < FEW {
            true => format!(" Only {n} swings: the band is wide for that and will move with more."),
            false => String::new(),
        };
        Some(Target {
            low: middle - half_width,
            high: middle + half_width,
            source: format!(
                "Model swings of this professional, {}: median and spread of {n} swings of {} {}.",
                group.says,
                players.len(),
                if players.len() == 1 {
                    "player"
                } else {
                    "players"
                }
            ),
            doubt: format!("One professional's choice of whom to look like, not a norm.{few}"),
            ..band(place, Basis::ModelSwings)
        })
    })
}

/// A way of grouping, from the narrowest to the widest. Clubs are never mixed, and a swing whose club is not known has
/// no models.
struct Group {
    says: &'static str,
    holds: fn(&Like, &Like) -> bool,
}

const GROUPS: [Group; 4] = [
    Group {
        says: "same club, sex, age group and hand",
        holds: |one, other| same_age(one, other) && known(one.hand, other.hand),
    },
    Group {
        says: "same club, sex and age group, both hands",
        holds: same_age,
    },
    Group {
        says: "same club and sex, all ages",
        holds: same_sex,
    },
    Group {
        says: "same club, all players",
        holds: |one, other| known(one.club, other.club),
    },
];

fn same_sex(one: &Like, other: &Like) -> bool {
    known(one.club, other.club) && known(one.sex, other.sex)
}

fn same_age(one: &Like, other: &Like) -> bool {
    let group = |like: &Like| like.age_years.map(age_group);
    same_sex(one, other) && known(group(one), group(other))
}

fn known<T: PartialEq>(one: Option<T>, other: Option<T>) -> bool {
    one.is_some() && one == other
}

/// Under 16, 16 to 49, 50 to 65, over 65: the bounds of the screening, and the age at which senior golf begins (50,
/// common practice).
fn age_group(years: u32) -> usize {
    [16, 50, 66].iter().filter(|from| years >= **from).count()
}

/// Middle and half-width of the band; none of too few, or where nothing spreads.
fn spread(values: &[f64], half_widths: &[f64]) -> Option<[f64; 2]> {
    let n = values.len();
    if n < FEWEST_MODELS {
        return None;
    }
    let seen = median(half_widths)? / 1.96;
    let s = mad_sigma(values)?.max(seen);
    let half_width = student_t(n - 1) * s * (1.0 + 1.0 / n as f64).sqrt();
    (half_width > 0.0).then_some([median(values)?, half_width])
}

/// Quantile 0.975 of Student's t, 2 to 30 degrees of freedom; beyond, that of 30, which is a little wide. From the
/// usual table (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2).
fn student_t(degrees_of_freedom: usize) -> f64 {
    const T: [f64; 29] = [
        4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.160, 2.145,
        2.131, 2.120, 2.110, 2.101, 2.093, 2.086, 2.080, 2.074, 2.069, 2.064, 2.060, 2.056, 2.052,
        2.048, 2.045, 2.042,
    ];
    T[degrees_of_freedom.clamp(2, 30) - 2]
}

/// A band at a measure's place, still without edges and words.
fn band(measure: &Measure, basis: Basis) -> Target {
    Target {
        measure: measure.name,
        moment: measure.moment,
        against: measure.against,
        view: measure.view,
        unit: measure.unit,
        low: 0.0,
        high: 0.0,
        basis,
        source: String::new(),
        doubt: String::new(),
    }
}

/// Of measures of one thing and view the one with the narrowest interval.
fn surest_of_each_place(measures: &[Measure]) -> impl Iterator<Item = &Measure> {
    measures.iter().filter(|measure| {
        let width = |m: &Measure| numbers(m).map_or(f64::INFINITY, |(_, i)| i.high - i.low);
        let same = measures.iter().filter(|other| same_place(other, measure));
        same.map(width).fold(f64::INFINITY, f64::min) >= width(measure)
            && numbers(measure).is_some()
    })
}

fn same_place(one: &Measure, other: &Measure) -> bool {
    (one.name, one.moment, one.against, one.view)
        == (other.name, other.moment, other.against, other.view)
}

fn numbers(measure: &Measure) -> Option<(f64, Interval)> {
    let (value, interval) = (measure.value?, measure.interval()?);
    let finite = [value, interval.low, interval.high]
        .iter()
        .all(|n| n.is_finite());
    (measure.state == MeasureState::Measured && finite).then_some((value, interval))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_of_t_agrees_with_another_program() {
        // scipy 1.17.1, stats.t.ppf(0.975, df).
        for (df, t) in [
            (2, 4.3027),
            (5, 2.5706),
            (9, 2.2622),
            (17, 2.1098),
            (30, 2.0423),
        ] {
            assert!((student_t(df) - t).abs() < 6e-4, "{df}");
        }
        // Beyond the table never narrower than it should be: 2.0211 for 40, 1.9840 for 100.
        assert!(student_t(40) > 2.0211 && student_t(100) > 1.984);
    }

    #[test]
    fn the_spread_of_models_agrees_with_another_program() {
        // scipy 1.17.1: median and stats.median_abs_deviation(x, scale="normal").
        let x = [1.2, 3.4, 2.2, 9.9, 2.8, 3.1, -0.5];
        let [middle, half] = spread(&x, &[0.1; 7]).unwrap();
        assert!((middle - 2.8).abs() < 1e-12);
        let expected = 2.4469 * 0.8895613311 * (8.0_f64 / 7.0).sqrt();
        assert!((half - expected).abs() < 1e-3 * expected, "{half}");
    }

    #[test]
    fn no_spread_is_seen_below_the_measures_own_error() {
        let [_, half] = spread(&[2.0, 2.0, 2.0, 2.0], &[1.96; 4]).unwrap();
        assert!((half - 3.182 * (1.25_f64).sqrt()).abs() < 1e-9);
        assert_eq!(spread(&[1.0, 2.0], &[1.0; 2]), None);
        assert_eq!(spread(&[1.0; 3], &[0.0; 3]), None);
    }

    #[test]
    fn age_groups_change_at_their_bounds() {
        let groups = [15, 16, 49, 50, 65, 66].map(age_group);
        assert_eq!(groups, [0, 1, 1, 2, 2, 3]);
    }
}
