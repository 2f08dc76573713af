//! The square code is read back by `rqrr`, a reader that shares no code with the writer.
#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "in a test a panic is the report")]

fn read(svg: &str) -> String {
    let png = paper::png(svg, 6.0).unwrap();
    let grey = image::load_from_memory(&png).unwrap().into_luma8();
    let (width, height) = (grey.width() as usize, grey.height() as usize);
    let mut found = rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| {
        grey.get_pixel(u32::try_from(x).unwrap(), u32::try_from(y).unwrap()).0[0]
    });
    let grids = found.detect_grids();
    assert_eq!(grids.len(), 1);
    grids[0].decode().unwrap().1
}

#[test]
fn the_code_holds_the_mark_and_nothing_else() {
    for mark in [
        "GP-7K3M-Q2X",
        "GP-2Z6H-V5J",
        "a",
        "Größe 5 µm",
        &"M".repeat(128),
        "http://192.168.178.101:65535/pair#00112233445566778899aabbccddeeff",
    ] {
        assert_eq!(read(&paper::square_code(mark).unwrap()), mark);
    }
}

#[test]
fn no_mark_no_code() {
    for mark in ["", "a\nb", &"M".repeat(129)] {
        assert!(matches!(paper::square_code(mark), Err(paper::PaperError::Mark(_))), "{mark}");
    }
}
