//! The few things that all pictures share.

use std::fmt::Write as _;

/// Colours of a picture that stands alone as a file.
const PALETTE: &str = ".p{fill:#fbfaf7}.i{fill:#26231f}.q{fill:#5f584e}.e{fill:#8a3d17}.a{fill:#fffefb}.g{fill:#cfc6b4}.b{fill:#b98d5c}.w{fill:#d9c4a0}\
.l{stroke:#26231f;fill:none}.le{stroke:#8a3d17;fill:none}.lq{stroke:#8c8578;fill:none}.h{fill:url(#hatch)}.hl{stroke:#8a3d17}.gr{stroke:#8c8578;stroke-width:.4}.s{font-weight:600}\
text{font-family:'Libertinus Serif',Georgia,serif}";

/// Makes a picture that can be saved: its own colours and the name space of a file.
pub fn standalone(svg: &str) -> String {
    coloured(svg, PALETTE)
}

/// The same in black and greys, for sheets that are printed on any machine and read with wet hands.
const INK: &str = ".p{fill:#fff}.i{fill:#000}.q{fill:#000}.e{fill:#000}.a{fill:#fff}.g{fill:#ddd}.b{fill:#bbb}.w{fill:#e6e6e6}\
.l{stroke:#000;fill:none}.le{stroke:#000;fill:none}.lq{stroke:#666;fill:none}.h{fill:url(#hatch)}.hl{stroke:#000}.gr{stroke:#666;stroke-width:.4}.s{font-weight:600}\
text{font-family:'Libertinus Serif',Georgia,serif}";

/// Makes a picture that can be saved or printed without colour.
pub fn in_ink(svg: &str) -> String {
    coloured(svg, INK)
}

fn coloured(svg: &str, palette: &str) -> String {
    svg.replacen("<svg ", "<svg xmlns=\"http://www.w3.org/2000/svg\" ", 1).replacen('>', &format!("><style>{palette}</style>"), 1)
}

/// A picture under way.
pub(crate) struct Svg {
    text: String,
}

impl Svg {
    /// Starts a picture of this size; `title` is what a screen reader says.
    pub(crate) fn new(width: f64, height: f64, title: &str) -> Self {
        let mut svg = Self { text: String::with_capacity(4096) };
        let _ = write!(
            svg.text,
            "<svg viewBox=\"0 0 {width:.0} {height:.0}\" width=\"{width:.0}\" height=\"{height:.0}\" role=\"img\"><title>{}</title>\
             <defs><pattern id=\"hatch\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
             <line class=\"hl\" x1=\"0\" y1=\"0\" x2=\"0\" y2=\"6\" stroke-width=\"2.2\"/></pattern></defs>",
            escaped(title)
        );
        svg
    }

    pub(crate) fn rect(&mut self, class: &str, x: f64, y: f64, width: f64, height: f64) {
        let _ = write!(
            self.text,
            "<rect class=\"{class}\" x=\"{x:.1}\" y=\"{y:.1}\" width=\"{:.1}\" height=\"{:.1}\"/>",
            width.max(0.0),
            height.max(0.0)
        );
    }

    pub(crate) fn line(&mut self, class: &str, width: f64, from: (f64, f64), to: (f64, f64)) {
        let _ = write!(
            self.text,
            "<line class=\"{class}\" stroke-width=\"{width}\" x1=\"{:.1}\" y1=\"{:.1}\" x2=\"{:.1}\" y2=\"{:.1}\"/>",
            from.0, from.1, to.0, to.1
        );
    }

    pub(crate) fn dashed(&mut self, class: &str, from: (f64, f64), to: (f64, f64)) {
        let _ = write!(
            self.text,
            "<line class=\"{class}\" stroke-width=\"1.5\" stroke-dasharray=\"5 4\" x1=\"{:.1}\" y1=\"{:.1}\" x2=\"{:.1}\" y2=\"{:.1}\"/>",
            from.0, from.1, to.0, to.1
        );
    }

    /// Text; `anchor` is `start`, `middle` or `end`.
    pub(crate) fn text(&mut self, class: &str, size: f64, anchor: &str, at: (f64, f64), words: &str) {
        let _ = write!(
            self.text,
            "<text class=\"{class}\" font-size=\"{size}\" text-anchor=\"{anchor}\" x=\"{:.1}\" y=\"{:.1}\">{}</text>",
            at.0,
            at.1,
            escaped(words)
        );
    }

    /// A path from ready-made data.
    pub(crate) fn path(&mut self, class: &str, data: &str) {
        let _ = write!(self.text, "<path class=\"{class}\" d=\"{data}\"/>");
    }

    /// Opens a group with these attributes, which are ours and not typed by anybody; close it with [`Svg::close`].
    pub(crate) fn open(&mut self, attributes: &str) {
        let _ = write!(self.text, "<g {attributes}>");
    }

    pub(crate) fn close(&mut self) {
        self.text.push_str("</g>");
    }

    /// Longer words for those who can't see the picture; stands right behind the title.
    pub(crate) fn desc(&mut self, words: &str) {
        let _ = write!(self.text, "<desc>{}</desc>", escaped(words));
    }

    /// A hatching of its own name: strokes this far apart and this thick, so that two of them differ without colour.
    pub(crate) fn hatching(&mut self, id: &str, apart: f64, thick: f64) {
        let _ = write!(
            self.text,
            "<defs><pattern id=\"{id}\" width=\"{apart}\" height=\"{apart}\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
             <line class=\"hl\" x1=\"0\" y1=\"0\" x2=\"0\" y2=\"{apart}\" stroke-width=\"{thick}\"/></pattern></defs>"
        );
    }

    /// A rectangle with attributes of its own; they are ours and not typed by anybody.
    pub(crate) fn marked(&mut self, attributes: &str, (x, y): (f64, f64), (width, height): (f64, f64)) {
        let _ = write!(
            self.text,
            "<rect {attributes} x=\"{x:.1}\" y=\"{y:.1}\" width=\"{:.1}\" height=\"{:.1}\"/>",
            width.max(0.0),
            height.max(0.0)
        );
    }

    /// A path with attributes of its own; they are ours and not typed by anybody.
    pub(crate) fn drawn(&mut self, attributes: &str, data: &str) {
        let _ = write!(self.text, "<path {attributes} d=\"{data}\"/>");
    }

    /// Another picture inside, moved.
    pub(crate) fn inside(&mut self, x: f64, y: f64, picture: &str) {
        let body = picture.split_once('>').map_or("", |(_, rest)| rest).trim_end_matches("</svg>");
        // The inner title would be read twice.
        let body = body.split_once("</title>").map_or(body, |(_, rest)| rest);
        let body = body.split_once("</defs>").map_or(body, |(_, rest)| rest);
        let _ = write!(self.text, "<g transform=\"translate({x:.1} {y:.1})\">{body}</g>");
    }

    pub(crate) fn finish(mut self) -> String {
        self.text.push_str("</svg>");
        self.text
    }
}

/// Text made safe inside markup; control characters, which no XML may hold, become spaces.
pub(crate) fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in words.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c if c.is_control() || c == '\u{fffe}' || c == '\u{ffff}' => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

/// Breaks words into lines of at most this many characters.
pub(crate) fn wrapped(words: &str, most: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in words.split_whitespace() {
        let word: String = word.chars().take(most).collect();
        if !line.is_empty() && line.chars().count() + 1 + word.chars().count() > most {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(&word);
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}
