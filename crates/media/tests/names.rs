//! A file's name is a name, whatever it looks like. Alone in its file: it changes the folder that
//! relative names start from.

mod common;

use common::*;
use lessonwright_media::{FrameReader, FrameRequest};
use lessonwright_model::Cancel;
use std::path::Path;

#[test]
fn names_that_look_like_options_addresses_or_patterns_are_read_as_names() {
    let folder = tempfile::tempdir().unwrap();
    let made = file_in(&folder, "made.mp4");
    Numbered {
        frames: 4,
        width: 160,
        height: 96,
        rate: "30",
        more_input: &[],
        encode: H264,
    }
    .write(&made);
    std::env::set_current_dir(folder.path()).unwrap();
    for name in [
        "-i.mp4",
        "http:a.mp4",
        "frame%03d.mp4",
        "two words 'quoted'.mp4",
        "schön 🏌.mp4",
    ] {
        std::fs::copy(&made, name).unwrap();
        let clip = probed(Path::new(name));
        assert_eq!(clip.facts.name, name);
        let request = FrameRequest::whole(None);
        let reader = FrameReader::open(&tools(), &clip, request, &Cancel::default()).unwrap();
        let numbers: Vec<_> = reader
            .map(|frame| number_in(&frame.unwrap().picture))
            .collect();
        assert_eq!(numbers, [0, 1, 2, 3], "{name}");
    }
    // The folder must not be stood in when it goes.
    std::env::set_current_dir("/").unwrap();
}
