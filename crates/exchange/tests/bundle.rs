//! What players send is checked before a byte is kept. The files are put together here by another writer than the page's
//! (the `zip` crate); that the page's own are read is held in `tests/browser/exchange.test.js`.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use lessonwright_exchange::{Bundle, BundleError};
use lessonwright_model::View;
use serde_json::{Value, json};
use std::io::{Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

/// SHA-256 of "abc" (FIPS 180-4, its first example).
const ABC: &str = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

fn said() -> Value {
    json!({
        "kind": "lessonwright-bundle", "version": 1, "player": "0123456789ab", "lesson": 3,
        "filmed_on": "2026-11-26",
        "clips": [{ "name": "face-on.mp4", "view": "face_on", "bytes": 3, "sha256": ABC }],
        "answers": {
            "pain_answered": true, "pains": [{ "area": "low_back", "strength": 4 }],
            "flight": "slice", "club": "", "feel": "", "words": "",
        },
    })
}

fn packed(parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let as_it_is = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    for (name, bytes) in parts {
        zip.start_file(*name, as_it_is).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

fn bundle(said: &Value, film: &[u8]) -> Vec<u8> {
    packed(&[
        ("bundle.json", said.to_string().as_bytes()),
        ("face-on.mp4", film),
    ])
}

/// What was written out of all clips, or why not.
fn taken(bytes: Vec<u8>) -> Result<Vec<u8>, BundleError> {
    let mut bundle = Bundle::open(Cursor::new(bytes))?;
    let mut written = Vec::new();
    for clip in bundle.manifest.clips.clone() {
        bundle.write_clip(&clip, &mut written)?;
    }
    Ok(written)
}

#[test]
fn a_whole_bundle_gives_its_clips_and_answers() {
    assert_eq!(taken(bundle(&said(), b"abc")).unwrap(), b"abc");
    let opened = Bundle::open(Cursor::new(bundle(&said(), b"abc"))).unwrap();
    assert_eq!(opened.manifest.clips[0].view, View::FaceOn);
    assert_eq!(opened.manifest.answers.pains[0].strength, 4);
}

#[test]
fn what_is_not_as_it_says_is_refused_with_a_reason() {
    let with = |path: &str, value: Value| {
        let mut said = said();
        *said.pointer_mut(path).unwrap() = value;
        bundle(&said, b"abc")
    };
    let mut later = said();
    later["version"] = 2.into();
    later["clips"] = "of another form".into();
    let two = json!([said()["clips"][0], said()["clips"][0]]);
    let extra = packed(&[
        ("bundle.json", said().to_string().as_bytes()),
        ("face-on.mp4", b"abc"),
        ("more.exe", b"x"),
    ]);
    let cases: Vec<(&str, Vec<u8>, &str)> = vec![
        ("no ZIP", b"film".to_vec(), "no whole bundle"),
        ("nothing", vec![], "no whole bundle"),
        (
            "cut short",
            bundle(&said(), b"abc")[..150].to_vec(),
            "no whole bundle",
        ),
        (
            "a later version in another form",
            bundle(&later, b"abc"),
            "later version",
        ),
        (
            "another kind",
            with("/kind", "holiday".into()),
            "another kind",
        ),
        ("another film", bundle(&said(), b"abd"), "damaged"),
        ("a longer film", bundle(&said(), b"abcd"), "damaged"),
        ("a part that is not said", extra, "other parts"),
        (
            "a clip that is not there",
            packed(&[("bundle.json", said().to_string().as_bytes())]),
            "other parts",
        ),
        (
            "a way out of the folder",
            with("/clips/0/name", "../face-on.mp4".into()),
            "plain name",
        ),
        (
            "a program",
            with("/clips/0/name", "face-on.exe".into()),
            "plain name",
        ),
        (
            "too large",
            with("/clips/0/bytes", (2_u64 << 30).into()),
            "2048 MB",
        ),
        ("one view twice", with("/clips", two), "one view"),
        ("no clip", with("/clips", json!([])), "no clip"),
        (
            "words without end",
            with("/answers/words", "a".repeat(3000).into()),
            "too long",
        ),
        (
            "pain beyond the scale",
            with("/answers/pains/0/strength", 11.into()),
            "1 to 10",
        ),
    ];
    for (what, bytes, expected) in cases {
        let said = taken(bytes).map(|_| ()).unwrap_err().to_string();
        assert!(said.contains(expected), "{what}: {said}");
    }
}

/// 10 kB that unpack to 10 MB: whatever is packed is refused before it is unpacked.
#[test]
fn what_unpacks_to_more_than_it_is_is_refused() {
    let mut bytes = bundle(&said(), b"abc");
    // The method's field: place 8 of a local header, 10 of a central one (APPNOTE 6.3, 4.3.7 and 4.3.12); 8 is deflate.
    let places: Vec<usize> = (0..bytes.len() - 4)
        .filter_map(|at| match &bytes[at..at + 4] {
            [b'P', b'K', 3, 4] => Some(at + 8),
            [b'P', b'K', 1, 2] => Some(at + 10),
            _ => None,
        })
        .collect();
    assert_eq!(places.len(), 4);
    for place in &places[1..] {
        bytes[*place] = 8;
    }
    let said = Bundle::open(Cursor::new(bytes))
        .map(|_| ())
        .unwrap_err()
        .to_string();
    assert!(said.contains("packed"), "{said}");
}
