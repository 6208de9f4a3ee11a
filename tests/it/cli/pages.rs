//! `sheet` and `report`: what is written, and what the page does not tell.

use std::path::Path;

use super::films::{films, listing, swingpair, words};

/// The page's text in which no path and no file's name may stand.
fn tells_nothing_of_this_computer(page: &str, folder: &Path) {
    for secret in
        [folder.to_str().unwrap(), "today.mp4", "best.mp4", "swing.json", "http://", "https://", "<script"]
    {
        assert!(!page.contains(secret), "the page says {secret}");
    }
}

#[test]
fn a_sheet_is_a_picture_or_a_page_for_the_printer() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let (png, pdf) = (folder.path().join("sheet.png"), folder.path().join("sheet.pdf"));
    let said = swingpair!["sheet", a, b, "-o", png, "--labels", "May,Best ever"];
    assert_eq!((said.code, said.out.trim_end()), (Some(0), png.to_str().unwrap()), "{}", said.err);
    let picture = image::open(&png).unwrap().to_rgb8();
    assert_eq!(picture.dimensions(), (2338, 1654));
    // A white ground with the two rows of pictures on it.
    let white = picture.pixels().filter(|p| p.0.iter().all(|c| *c >= 250)).count() as f64;
    let share = white / f64::from(2338 * 1654);
    assert!((0.3..0.65).contains(&share), "{share}");
    let said = swingpair!["-q", "sheet", a, b, "-o", pdf, "--labels", "May,Best ever"];
    assert_eq!(said.code, Some(0), "{}", said.err);
    let file = std::fs::read(&pdf).unwrap();
    assert!(file.starts_with(b"%PDF-1.4") && file.ends_with(b"%%EOF\n"));
    assert_eq!(
        listing(folder.path()),
        ["best.mp4", "best.swing.json", "sheet.pdf", "sheet.png", "today.mp4", "today.swing.json"]
    );
    // With the names and drawings of a plan.
    let (plan, planned) = (folder.path().join("plan.toml"), folder.path().join("planned.png"));
    let text = "names = [\"May\", \"Best ever\"]\ndraw = [\"front-leg\"]\n\n[[shot]]\nshow = \"card\"\nseconds = 1\n";
    std::fs::write(&plan, text).unwrap();
    let said = swingpair!["sheet", a, b, "-o", planned, "--plan", plan];
    assert_eq!(said.code, Some(0), "{}", said.err);
    let other = image::open(&planned).unwrap().to_rgb8();
    // The drawings alone differ: names and everything else are the same.
    let changed = picture.pixels().zip(other.pixels()).filter(|(a, b)| a != b).count();
    assert!((1000..200_000).contains(&changed), "{changed}");
    let title = |p: &image::RgbImage| image::imageops::crop_imm(p, 0, 0, 2338, 150).to_image();
    assert_eq!(title(&picture), title(&other));
    std::fs::write(&plan, text.replace("front-leg", "front-lag")).unwrap();
    let said = swingpair!["sheet", a, b, "-o", planned, "--plan", plan];
    assert!(said.code == Some(2) && said.err.contains("“front-leg”"), "{}", said.err);
    let wrong = folder.path().join("sheet.jpg");
    let said = swingpair!["sheet", a, b, "-o", wrong];
    assert!(said.code == Some(2) && said.err.contains("use .png or .pdf"), "{}", said.err);
    let said = swingpair!["sheet", a, b, "-o", a];
    assert!(said.code == Some(2) && said.err.contains("is one of the inputs"), "{}", said.err);
}

#[test]
fn a_page_holds_everything_and_tells_nothing_of_this_computer() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let out = folder.path().join("page.html");
    let labels = "<b>May</b>,\"Best\" & more";
    let small = ["--size", "256x456", "--slow", "1"];
    let mut all = words!["report", a, b, "-o", out, "--labels", labels].to_vec();
    all.extend(small.iter().map(Into::into));
    let said = super::films::run(&all);
    assert_eq!((said.code, said.out.trim_end()), (Some(0), out.to_str().unwrap()), "{}", said.err);
    let page = std::fs::read_to_string(&out).unwrap();
    tells_nothing_of_this_computer(&page, folder.path());
    assert!(!page.contains("<b>May</b>") && page.contains("&lt;b&gt;May&lt;/b&gt;"));
    assert!(page.contains("&quot;Best&quot; &amp; more"));
    for part in [
        "src=\"data:video/mp4;base64,",
        "poster=\"data:image/png;base64,iVBOR",
        "src=\"data:image/png;base64,",
        "Plant to contact",
        "Hand height above the ground, % of height",
        "Hand speed, heights/s",
        "Body center toward the pitcher",
        "Head travel from its place",
        "Estimates, not a diagnosis.",
        "Compared with a single best rep",
        "prefers-color-scheme:dark",
    ] {
        assert!(page.contains(part), "{part} is missing");
    }
    assert_eq!(page.matches("<svg").count(), 4);
    // Every tag that is opened is closed.
    for tag in
        ["section", "table", "tr", "td", "th", "ul", "li", "figure", "svg", "text", "main", "div", "span"]
    {
        let opened = page.matches(&format!("<{tag}>")).count() + page.matches(&format!("<{tag} ")).count();
        assert_eq!(opened, page.matches(&format!("</{tag}>")).count(), "{tag}");
    }
    // Before stands first: in the title, in the table's head, in each row.
    let said = words!["report", a, b, "-o", out, "--ready", "before-after", "--size", "256x456"];
    let said = super::films::run(&said);
    assert_eq!(said.code, Some(0), "{}", said.err);
    let turned = std::fs::read_to_string(&out).unwrap();
    assert!(turned.contains("<title>Before then After</title>"), "{:?}", turned.get(..400));
    let before = |text: &str, first: &str, last: &str| text.find(first).unwrap() < text.find(last).unwrap();
    let (head, old_head) = (turned.split("<thead>").nth(1).unwrap(), page.split("<thead>").nth(1).unwrap());
    assert!(
        before(head, "badge reference", "badge today") && before(old_head, "badge today", "badge reference")
    );
    let row = |page: &str| -> Vec<String> {
        let row = page.split("Plant to contact</th>").nth(1).unwrap().split("</tr>").next().unwrap();
        let cells = row.split("<td>").skip(1).map(|c| c.split("</td>").next().unwrap());
        cells.map(|c| c.rsplit("</span>").next().unwrap().to_owned()).collect()
    };
    let (plain, turned) = (row(&page), row(&turned));
    assert_eq!([&plain[0], &plain[1], &plain[2]], [&turned[1], &turned[0], &turned[2]]);
    assert_eq!(
        listing(folder.path()),
        ["best.mp4", "best.swing.json", "page.html", "today.mp4", "today.swing.json"]
    );

    // The name that a large clip beside the page would take is no input's.
    let taken = folder.path().join("today.html");
    let said = swingpair!["report", a, b, "-o", taken];
    assert!(said.code == Some(2) && said.err.contains("is one of the inputs"), "{}", said.err);
    let wrong = folder.path().join("page.pdf");
    let said = swingpair!["report", a, b, "-o", wrong];
    assert!(said.code == Some(2) && said.err.contains("use .html or .htm"), "{}", said.err);
}
