//! A folder of photos is dropped on a page and files itself under the boards whose labels it shows.

use std::path::Path;

use acceptance::{Browser, DESK, Program, Trouble};
use boardmaker::{Pattern, Recipe, Sheet, Stage, make_at, make_with};
use qrcode::{Color, EcLevel, QrCode};

use crate::{FOLDER, at_both, count};

/// A photo of a small cracked board; with a board's id it carries its printed label.
fn photo(seed: u64, id: Option<&str>) -> Result<Vec<u8>, Trouble> {
    let recipe = Recipe {
        board_mm: (60.0, 44.0),
        photo_px: (1100, 820),
        width_mm: 0.25,
        width_spread: 0.1,
        tilt: 0.02,
        ..Recipe::usual(seed, Pattern::Cells(24))
    };
    let sheet = |id: &str| {
        // Drawn by a library that shares no code with the reader.
        let code = QrCode::with_error_correction_level(id, EcLevel::M).map_err(|why| Trouble::odd(why.to_string()))?;
        let squares = code.to_colors().chunks(code.width()).map(|row| row.iter().map(|color| *color == Color::Dark).collect()).collect();
        Ok::<_, Trouble>(Sheet::label(squares, (18.0, 20.0), 7.0))
    };
    let sheets = id.map(sheet).transpose()?;
    Ok(make_with(&recipe, sheets.as_slice()).jpeg)
}

/// Boards of the example studio that stand on the page of its trials.
fn boards(browser: &Browser, program: &Program) -> Result<Vec<String>, Trouble> {
    browser.go(&program.url("/"))?;
    browser.follow("form[action='/example'] button")?;
    let script = "const done = arguments[0];
        (async () => {
            const page = async (path) => new DOMParser().parseFromString(await (await fetch(path)).text(), 'text/html');
            const ids = new Set();
            for (const trial of (await page('/trials')).querySelectorAll('main a[href^=\"/trials/\"]')) {
                for (const board of (await page(trial.getAttribute('href'))).querySelectorAll('a[href^=\"/board/GP-\"]')) {
                    ids.add(board.getAttribute('href').slice('/board/'.length));
                }
            }
            done([...ids]);
        })();";
    let ids = browser.ask_later(script, Vec::new())?;
    Ok(ids.as_array().into_iter().flatten().filter_map(|id| id.as_str()).map(str::to_owned).collect())
}

/// A folder in a folder: three labelled boards, one without a label, and a letter that only is called a photo.
fn folder(ids: &[String]) -> Result<tempfile::TempDir, Trouble> {
    let place = shown()?;
    let write = |name: &str, bytes: &[u8]| put(&place.path().join(name), bytes);
    inner(place.path())?;
    write("IMG_1.jpg", &photo(101, ids.first().map(String::as_str))?)?;
    write("IMG_2.jpg", &photo(102, ids.get(1).map(String::as_str))?)?;
    write("second round/IMG_10.jpg", &photo(103, ids.get(2).map(String::as_str))?)?;
    write("IMG_3.jpg", &photo(104, None)?)?;
    write("IMG_4.jpg", b"Dear keeper of the light, the photos follow.")?;
    write("notes.txt", b"no photo")?;
    Ok(place)
}

/// An empty folder that is not hidden: a browser passes over hidden ones.
fn shown() -> Result<tempfile::TempDir, Trouble> {
    disk(tempfile::Builder::new().prefix("photos").tempdir_in(FOLDER))
}

#[expect(clippy::disallowed_methods, reason = "photos are chosen from the disk")]
fn put(path: &Path, bytes: &[u8]) -> Result<(), Trouble> {
    disk(std::fs::write(path, bytes))
}

#[expect(clippy::disallowed_methods, reason = "a folder in the folder that is dropped")]
fn inner(place: &Path) -> Result<(), Trouble> {
    disk(std::fs::create_dir(place.join("second round")))
}

/// What the disk refuses is no fault of the page.
fn disk<T>(done: std::io::Result<T>) -> Result<T, Trouble> {
    done.map_err(|why| Trouble::odd(why.to_string()))
}

fn done(browser: &Browser, photos: u64) -> Result<(), Trouble> {
    browser.wait_until(&format!(
        "document.querySelectorAll('#heap-list li').length >= {photos} && document.querySelector('#heap').dataset.done"
    ))
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_dropped_folder_files_itself_under_its_boards() -> Result<(), Trouble> {
    // A folder is dropped at a desk; a phone has no way to do it.
    let program = Program::start()?;
    let browser = Browser::inside(&program, DESK, Path::new(FOLDER))?;
    let ids = boards(&browser, &program)?;
    assert!(ids.len() >= 3, "{ids:?}");
    let place = folder(&ids)?;
    browser.go(&program.url("/photos"))?;
    browser.drop_files(&[place.path()])?;
    done(&browser, 5)?;
    assert_eq!(count(&browser, "#heap-list li[data-state=filed]")?, 3, "{}", browser.text("#heap-list")?);
    assert_eq!(count(&browser, "#heap-list li[data-state=homeless]")?, 1);
    assert_eq!(count(&browser, "#heap-list li[data-state=refused]")?, 1);
    let said = browser.text("#heap-list")?;
    assert!(said.contains(&ids[0]) && said.contains(&ids[2]), "{said}");
    // The letter was refused over the wire; nothing else may complain.
    let complaints = browser.complaints()?;
    assert!(complaints.iter().all(|line| line.contains("422")), "{complaints:?}");

    // Each lies in the file of its board, measured, and can be written down.
    browser.go(&program.url(&format!("/board/{}", ids[0])))?;
    browser.follow("main a[href^='/photos/']")?;
    let page = browser.text("main")?;
    assert!(page.contains("This board has") && page.contains("mm of crack"), "{page}");
    assert!(count(&browser, ".sight-over path")? > 3);
    browser.follow("form[action$='/write'] button")?;
    let page = browser.text("main")?;
    assert!(page.contains("Written down from this photo") && page.contains("crack length to the area"), "{page}");
    browser.go(&program.url(&format!("/board/{}", ids[0])))?;
    assert!(browser.text("main")?.contains("by photo"));

    // The same folder again is known by its bytes: nothing is measured or filed twice.
    browser.go(&program.url("/photos"))?;
    browser.drop_files(&[place.path()])?;
    done(&browser, 5)?;
    browser.go(&program.url(&format!("/board/{}", ids[0])))?;
    assert_eq!(count(&browser, "main a[href^='/photos/']")?, 1);

    // Whose the one without a label is, is asked; the answer files it.
    browser.go(&program.url("/photos"))?;
    assert!(browser.text("#heap-next")?.contains("whose"), "{}", browser.text("#heap-next")?);
    browser.follow("main section ul.heap a[href^='/photos/']")?;
    browser.fill("form[action$='/file'] input[name=board]", &ids[1])?;
    browser.follow("form[action$='/file'] button")?;
    assert!(browser.text("main")?.contains(&ids[1]));
    browser.complaints()?;
    Ok(())
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn photos_wait_in_the_browser_until_the_desk_takes_them() -> Result<(), Trouble> {
    at_both(|browser, program| {
        let place = shown()?;
        for seed in [201, 202] {
            put(&place.path().join(format!("IMG_{seed}.jpg")), &photo(seed, None)?)?;
        }
        browser.go(&program.url("/photos"))?;
        browser.offline(true)?;
        browser.drop_files(&[place.path()])?;
        browser.wait_until("document.querySelector('#heap-words').textContent.includes('2 photos are kept here')")?;
        browser.offline(false)?;
        // Another load of the page goes on where the last one was stopped.
        browser.go(&program.url("/photos"))?;
        done(browser, 2)?;
        assert_eq!(count(browser, "#heap-list li[data-state=homeless]")?, 2, "{}", browser.text("#heap-list")?);
        // What the console said while the network was cut was wanted.
        browser.complaints().map(drop)
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_photo_on_the_front_door_answers_why_it_failed() -> Result<(), Trouble> {
    at_both(|browser, program| {
        let place = shown()?;
        put(&place.path().join("IMG_301.jpg"), &photo(301, None)?)?;
        browser.go(&program.url("/failed"))?;
        browser.drop_files(&[&place.path().join("IMG_301.jpg")])?;
        browser.arrive("/photos")?;
        done(browser, 1)?;
        browser.follow("#heap-list a[href^='/photos/']")?;
        // Without a size nothing is told in millimetres, and it is asked for.
        assert!(browser.text("main")?.contains("how large is the board"), "{}", browser.text("main")?);
        browser.fill("form.size input[name=board]", "60x44mm")?;
        browser.follow("form.size button")?;
        assert!(browser.text("main")?.contains("mm of crack"), "{}", browser.text("main")?);
        browser.follow("form[action='/failed'] button")?;
        browser.wait_until("document.querySelector('input[name=\"tap.looks\"][value=\"network of cracks\"]').checked")
    })
}

/// Files a photo with a board and measures it there; gives back the address of its page.
fn filed(browser: &Browser, program: &Program, board: &str, photo: &Path) -> Result<String, Trouble> {
    browser.go(&program.url(&format!("/board/{board}")))?;
    browser.type_into("form[action$='/photo'] input[name=photo]", &photo.display().to_string())?;
    browser.follow("form[action$='/photo'] button")?;
    let last = "const all = document.querySelectorAll('main a[href^=\"/photos/\"]'); return [...all].filter((a) => a.innerText.includes('Measure')).map((a) => a.getAttribute('href'))[0]";
    let address = browser.ask(last, Vec::new())?.as_str().unwrap_or_default().to_owned();
    browser.go(&program.url(&address))?;
    browser.fill("form.measure input[name=board]", "80x60mm")?;
    browser.follow("form.measure button")?;
    Ok(address)
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn two_photos_of_a_board_tell_what_grew() -> Result<(), Trouble> {
    at_both(|browser, program| {
        let ids = boards(browser, program)?;
        let place = shown()?;
        let recipe = Recipe { board_mm: (80.0, 60.0), photo_px: (1200, 900), width_mm: 0.25, ..Recipe::usual(401, Pattern::Growing(6)) };
        let mut pages = Vec::new();
        for (name, stage) in [("young.jpg", Stage { reach: 0.5, ..Stage::whole(7) }), ("old.jpg", Stage::whole(8))] {
            let path = place.path().join(name);
            put(&path, &make_at(&recipe, stage).jpeg)?;
            pages.push(filed(browser, program, &ids[0], &path)?);
        }
        browser.follow("main a[href*='/since/']")?;
        let page = browser.text("main")?;
        // Half of the crack's length is there in the first photo: as much again has grown.
        assert!(count(browser, ".since-over path.longer, .since-over path.new")? > 0, "{page}");
        assert!(count(browser, ".since-over path.known")? > 0, "{page}");
        browser.wait_until("[...document.querySelectorAll('.since-pair img')].every((img) => img.complete && img.naturalWidth > 500)")?;
        let clip = "return document.querySelector('.since-pair figure:last-child').style.clipPath";
        let before = browser.ask(clip, Vec::new())?;
        browser.ask("document.querySelector('[data-slide]').focus()", Vec::new())?;
        browser.press("\u{e014}\u{e014}\u{e014}")?;
        assert_ne!(browser.ask(clip, Vec::new())?, before, "the slider moves the curtain");
        // A photo beside itself is no pair.
        let photo = pages[1].trim_start_matches("/photos/");
        browser.go(&program.url(&format!("/photos/{photo}/since/{photo}")))?;
        assert!(browser.text("main")?.contains("two photos of one board"));
        let complaints = browser.complaints()?;
        assert!(complaints.iter().all(|line| line.contains("422")), "{complaints:?}");
        Ok(())
    })
}
