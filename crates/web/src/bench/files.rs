//! Style and scripts of the bench, built into the program.

/// A file as it is served.
pub struct Served {
    pub kind: &'static str,
    pub text: &'static str,
}

/// The file of that name.
pub fn find(name: &str) -> Option<Served> {
    if name == "bench.css" {
        return Some(Served {
            kind: "text/css; charset=utf-8",
            text: include_str!("../../templates/bench.css"),
        });
    }
    let script = SCRIPTS.iter().find(|(known, _)| *known == name)?;
    Some(Served {
        kind: "text/javascript; charset=utf-8",
        text: script.1,
    })
}

macro_rules! scripts {
    ($($name:literal),* $(,)?) => {
        [$(($name, include_str!(concat!("../../scripts/bench/", $name)))),*]
    };
}

const SCRIPTS: [(&str, &str); 14] = scripts![
    "main.js",
    "clock.js",
    "strip.js",
    "pictures.js",
    "quick.js",
    "figure.js",
    "panel.js",
    "travel.js",
    "player.js",
    "marks.js",
    "handles.js",
    "by-hand.js",
    "other.js",
    "body.js",
];
