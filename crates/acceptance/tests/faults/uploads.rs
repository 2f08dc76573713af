//! Photos that are none, too large, cut short, or from elsewhere.

use acceptance::{Answer, Program, Trouble, Visitor};

use crate::notes::{calm, check, count, led, photo, png, sentence, trial};

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn what_is_no_photo_is_refused_and_not_filed() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let board = trial(&visitor)?.1;
    let right = png(5)?;
    let before = count(&program)?;
    let refused = |answer: &Answer, what: &str| -> Result<(), Trouble> {
        let said = sentence(answer);
        assert!((400..500).contains(&answer.status), "{what}: {} {said}", answer.status);
        assert!(said.len() > 30, "{what}: no sentence: {said}");
        assert_eq!(count(&program)?, before, "{what}");
        assert_eq!(check(program.studio())?.1["photos"], 0, "{what}: no bytes stay");
        Ok(())
    };
    let mut large = right.clone();
    large.resize(41 * 1024 * 1024, 7);
    let huge = vec![7; 45 * 1024 * 1024];
    let gif = b"GIF89a\x01\0\x01\0\x80\0\0\0\0\0\xff\xff\xff,\0\0\0\0\x01\0\x01\0\0\x02\x02D\x01\0;";
    let svg = b"<svg xmlns=\"http://www.w3.org/2000/svg\"><script>alert(1)</script></svg>";
    let cases: [(&str, &[u8]); 8] = [
        ("half", &right[..right.len() / 2]),
        ("the head alone", &right[..20]),
        ("41 MB", &large),
        ("45 MB", &huge),
        ("a GIF", gif),
        ("an SVG", svg),
        ("nothing", b""),
        ("a JPEG's first bytes", b"\xff\xd8\xff\xe0\0\x10JFIF"),
    ];
    for (what, bytes) in cases {
        refused(&photo(&visitor, &board, what, Some(bytes))?, what)?;
    }
    refused(&photo(&visitor, &board, "no file", None)?, "no file")?;
    for caption in ["a".repeat(100_000), "\u{1f9c0}".repeat(25_000), "a".repeat(9_000)] {
        refused(&photo(&visitor, &board, &caption, Some(&right))?, "a long caption")?;
    }
    for board in ["/board/GP-0000-000", "/board/..%2F..", "/board/%00", "/board/%FF", "/board/natural-chalk"] {
        refused(&photo(&visitor, board, "", Some(&right))?, board)?;
    }
    for token in ["", "0", &visitor.token[1..]] {
        let mut stranger = visitor.clone();
        token.clone_into(&mut stranger.token);
        refused(&photo(&stranger, &board, "", Some(&right))?, "a wrong token")?;
    }
    let at = format!("{board}/photo");
    let fields = [("token", visitor.token.as_str()), ("caption", "")];
    let whole = visitor.request("POST", &at).upload(&fields, Some(("photo", &right)));
    refused(&visitor.send(&whole.clone().header("Content-Type", "multipart/form-data"))?, "no boundary")?;
    refused(&visitor.send(&whole.header("Content-Type", "multipart/form-data; boundary=other"))?, "another boundary")?;
    refused(&visitor.post(&at, &[("photo", "chalk")])?, "a plain form")?;
    refused(&visitor.send(&visitor.request("POST", &at).upload(&fields, Some(("picture", &right))))?, "a file of another name")?;
    led(&photo(&visitor, &board, "the right one", Some(&right))?)?;
    assert_eq!(count(&program)?, before + 1, "and the program goes on");
    calm(&program)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn three_photos_at_once_are_three() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let board = trial(&visitor)?.1;
    let before = count(&program)?;
    std::thread::scope(|scope| {
        let hands: Vec<_> = (0..3)
            .map(|number| {
                let (visitor, board) = (&visitor, &board);
                scope.spawn(move || led(&photo(visitor, board, &format!("side {number}"), Some(&png(number)?))?))
            })
            .collect();
        hands.into_iter().try_for_each(|hand| hand.join().map_err(|_| Trouble::odd("a hand fell over"))?.map(drop))
    })?;
    assert_eq!(count(&program)?, before + 3);
    assert_eq!(check(program.studio())?.1["photos"], 3);
    assert_eq!(visitor.get(&board)?.text().matches("src=\"/photo/").count(), 3);
    calm(&program)
}
