//! Pages as readers see them.

/// What a reader sees: no style, no drawings, one line a block.
pub fn text_of(page: &str) -> String {
    let mut text = String::new();
    let mut hidden = 0;
    for part in page.split('<').skip(1) {
        let (tag, words) = part.split_once('>').unwrap();
        let name = tag
            .trim_start_matches('/')
            .split([' ', '\n'])
            .next()
            .unwrap();
        if ["style", "svg", "title"].contains(&name) && !tag.ends_with('/') {
            if tag.starts_with('/') {
                hidden -= 1
            } else {
                hidden += 1
            }
        }
        if hidden > 0 {
            continue;
        }
        if !["span", "strong", "svg", "style", "a", "title"].contains(&name) {
            text.push('\n');
        }
        text.push_str(words);
    }
    let text = text
        .replace("&nbsp;", " ")
        .replace("&#39;", "'")
        .replace("&#38;", "&");
    let lines = text
        .lines()
        .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
    lines
        .filter(|line| !line.is_empty())
        .collect::<Vec<_>>()
        .join("\n")
}
