//! Films, looked at by ffprobe and by the bytes of the format itself (ISO/IEC 14496-12).

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use common::{ffmpeg, file_in, find, number_in, numbered_luma, probed, tools};
use lessonwright_media::{Film, FilmFormat, MediaError, Voice, grab, sound, voice};
use lessonwright_model::Cancel;
use std::path::Path;
use std::process::Command;
use tempfile::TempDir;

const FORMAT: FilmFormat = FilmFormat {
    width: 160,
    height: 120,
    rate_hz: 30,
    pictures: 0,
    small_width: 80,
};

/// Pictures that carry their number, as `Film` takes them.
fn numbered(number: usize) -> Vec<u8> {
    let luma = numbered_luma(number, FORMAT.width, FORMAT.height);
    luma.iter()
        .flat_map(|&grey| [grey, grey, grey, 255])
        .collect()
}

/// A film of so many pictures and its small one.
fn film(folder: &Path, pictures: usize, voice: &Voice) -> [Vec<u8>; 2] {
    let [to, small] = ["film.mp4", "small.mp4"].map(|name| folder.join(name));
    let cancel = Cancel::default();
    let format = FilmFormat { pictures, ..FORMAT };
    let mut film = Film::start(&tools(), format, voice, &to, &small, &cancel).unwrap();
    for number in 0..pictures {
        film.show(&numbered(number)).unwrap();
    }
    film.finish().unwrap();
    [to, small].map(|path| std::fs::read(path).unwrap())
}

/// What ffprobe says of each stream, one line a stream.
fn streams(path: &Path) -> Vec<String> {
    let output = Command::new("ffprobe")
        .args(["-v", "error", "-of", "csv=p=0", "-show_entries"])
        .arg("stream=codec_name,profile,pix_fmt,width,height,color_space,duration")
        .arg(path)
        .output()
        .unwrap();
    String::from_utf8(output.stdout)
        .unwrap()
        .lines()
        .map(str::to_owned)
        .collect()
}

#[test]
fn a_film_is_what_every_phone_plays() {
    let folder = TempDir::new().unwrap();
    let [film, _] = film(folder.path(), 60, &Voice::default());
    assert_eq!(
        streams(&folder.path().join("film.mp4")),
        [
            "h264,Main,160,120,yuv420p,bt709,2.000000",
            "aac,LC,2.000000"
        ]
    );
    let small = streams(&folder.path().join("small.mp4"));
    assert_eq!(small, ["h264,Main,80,60,yuv420p,bt709,2.000000"]);
    // The index goes before the pictures, so that a film plays while it is still being fetched.
    assert!(find(&film, b"moov").unwrap() < find(&film, b"mdat").unwrap());
    let left: Vec<_> = std::fs::read_dir(folder.path()).unwrap().collect();
    assert_eq!(left.len(), 2, "nothing is left beside them: {left:?}");
}

#[test]
fn every_picture_is_in_it_in_order() {
    let folder = TempDir::new().unwrap();
    film(folder.path(), 45, &Voice::default());
    let clip = probed(&folder.path().join("film.mp4"));
    assert_eq!(clip.facts.frame_times_s.len(), 45);
    let pictures = grab(&tools(), &clip, &[0, 7, 44], None, &Cancel::default()).unwrap();
    let numbers: Vec<usize> = pictures.iter().map(number_in).collect();
    assert_eq!(numbers, [0, 7, 44]);
}

#[test]
fn the_same_pictures_and_voice_give_the_same_bytes() {
    let tone = Voice {
        samples: (0..48_000)
            .map(|n| (8000.0 * (n as f64 * 0.05).sin()) as i16)
            .collect(),
    };
    let [a, b] = [(); 2].map(|()| film(TempDir::new().unwrap().path(), 40, &tone));
    assert!(a == b);
}

#[test]
fn a_voice_is_heard_from_the_start_and_silence_follows_it() {
    let folder = TempDir::new().unwrap();
    let recording = file_in(&folder, "voice.wav");
    ffmpeg(
        &[
            "-f",
            "lavfi",
            "-i",
            "sine=frequency=440:duration=1:sample_rate=16000",
            "-c:a",
            "pcm_s16le",
        ],
        &recording,
        std::iter::empty(),
    );
    let spoken = voice(&tools(), &recording, &Cancel::default()).unwrap();
    assert!((spoken.duration_s() - 1.0).abs() < 0.01);
    film(folder.path(), 90, &spoken);
    let clip = probed(&folder.path().join("film.mp4"));
    let heard = sound(&tools(), &clip, &Cancel::default()).unwrap().unwrap();
    let loud = |from_s: f64, to_s: f64| {
        let at = |s: f64| ((s - heard.start_s) * 48_000.0) as usize;
        let part = &heard.samples[at(from_s)..at(to_s).min(heard.samples.len())];
        part.iter().map(|s| s * s).sum::<f32>() / part.len() as f32
    };
    assert!(loud(0.2, 0.8) > 1e-4 && loud(1.5, 2.8) < 1e-8);
}

#[test]
fn what_is_no_voice_is_refused_in_words() {
    let folder = TempDir::new().unwrap();
    let text = file_in(&folder, "voice.m4a");
    std::fs::write(&text, "no sound at all").unwrap();
    let playlist = file_in(&folder, "list.m3u8");
    std::fs::write(&playlist, "#EXTM3U\n#EXTINF:1,\nfile:///etc/hostname\n").unwrap();
    for path in [&text, &playlist, &folder.path().join("absent.wav")] {
        let error = voice(&tools(), path, &Cancel::default()).unwrap_err();
        assert!(!error.to_string().contains('\n'), "{error}");
    }
}

#[test]
fn a_picture_of_another_size_is_refused_and_nothing_is_left() {
    let folder = TempDir::new().unwrap();
    let [to, small] = ["film.mp4", "small.mp4"].map(|name| folder.path().join(name));
    let cancel = Cancel::default();
    let mut film = Film::start(&tools(), FORMAT, &Voice::default(), &to, &small, &cancel).unwrap();
    assert!(matches!(
        film.show(&[0; 12]),
        Err(MediaError::BadRequest { .. })
    ));
    drop(film);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}
