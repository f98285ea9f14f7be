//! Where things lie in the film: the views side by side, a plate with words under them.

use lessonwright_report::Crop;

/// Height of the views, px: a phone's width in its own upright pixels twice over.
const PANEL_HEIGHT: usize = 720;

/// Widest view, px.
const WIDEST_PANEL: usize = 720;

/// Height of the plate with words, px.
const PLATE_HEIGHT: usize = 112;

/// Between two views, px: pictures of one place would run into each other (by eye; even, as the sides are).
const GAP: usize = 4;

/// Where one view lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Panel {
    /// The window of the frame that is shown.
    pub crop: Crop,
    /// Pixels of the film in one of the frame.
    pub scale: f64,
    /// Left edge in the film.
    pub left: usize,
    /// Width in the film.
    pub width: usize,
}

/// The whole picture. Both sides are even, as the film's format asks.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// Width.
    pub width: usize,
    /// Height.
    pub height: usize,
    /// The views, from left to right.
    pub panels: Vec<Panel>,
    /// Height of the plate under them.
    pub plate_height: usize,
}

impl Layout {
    /// The views as high as each other, each as wide as its window asks.
    pub fn of(crops: &[Crop]) -> Layout {
        let mut left = 0;
        let panels = crops.iter().map(|crop| {
            let scale = (PANEL_HEIGHT as f64 / crop.height as f64)
                .min(WIDEST_PANEL as f64 / crop.width as f64);
            let width = even(crop.width as f64 * scale);
            left += width + GAP;
            Panel {
                crop: *crop,
                scale,
                left: left - width - GAP,
                width,
            }
        });
        let panels: Vec<Panel> = panels.collect();
        Layout {
            width: left.saturating_sub(GAP),
            height: PANEL_HEIGHT + PLATE_HEIGHT,
            panels,
            plate_height: PLATE_HEIGHT,
        }
    }

    /// Height of the views.
    pub fn panel_height(&self) -> usize {
        self.height - self.plate_height
    }
}

/// The nearest even number, at least 2.
fn even(length: f64) -> usize {
    ((length / 2.0).round() as usize).max(1) * 2
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn views_lie_side_by_side_and_every_side_is_even() {
        let crop = |width, height| Crop {
            left: 0,
            top: 0,
            width,
            height,
        };
        let layout = Layout::of(&[crop(511, 777), crop(301, 999), crop(1920, 1080)]);
        assert_eq!(layout.panels[1].left, layout.panels[0].width + GAP);
        let end = layout.panels[2].left + layout.panels[2].width;
        assert_eq!(
            (end, layout.width % 2, layout.height % 2),
            (layout.width, 0, 0)
        );
        for panel in &layout.panels {
            let shape = panel.width as f64 / (panel.scale * panel.crop.height as f64);
            let asked = panel.crop.width as f64 / panel.crop.height as f64;
            assert!((shape / asked - 1.0).abs() < 0.01);
            assert!(panel.scale * panel.crop.height as f64 <= 720.5);
        }
    }
}
