//! Pieces flow over pages; then every page gets its header and footer.

use std::rc::Rc;

use kurbo::{Rect, Vec2};

use crate::block::{About, Packet, Sheet};
use crate::page::{Ink, Item, Landmark, Page, Pages, Stroke};
use crate::paper::{FOOTER, HEADER, MM, Paper};
use crate::para::{Look, Side};
use crate::piece::{Head, Keep, Piece};
use crate::setter::{Setter, headings};
use crate::typecase::Typecase;
use crate::unprintable::Unprintable;

/// Share of a page that is not left white for the sake of what would like to
/// stay together.
const WHITE: f64 = 0.14;

/// Lays a document out on pages.
///
/// # Errors
/// Everything that cannot be printed, all of it at once: signs that no face
/// has, pieces higher than a page or wider than their place, templates not at
/// full size, type below 7 pt.
pub fn lay_out(case: &Typecase, packet: &Packet) -> Result<Pages, Vec<Unprintable>> {
    let body = packet.paper.body();
    let mut titles = Vec::new();
    packet.sheets.iter().for_each(|s| headings(&s.blocks, &mut titles));
    let mut setter =
        Setter { case, headings: &titles, set: 0, room: body.height(), part: "", troubles: Vec::new() };
    let mut flow = Flow::new(packet.paper, &titles);
    for (i, sheet) in packet.sheets.iter().enumerate() {
        setter.part = &sheet.part;
        let pieces = setter.blocks(&sheet.blocks, body.width());
        flow.sheet(i, pieces);
    }
    let mut troubles = setter.troubles;
    troubles.append(&mut flow.troubles);
    let Flow { mut pages, marks, .. } = flow;
    let landmarks: Vec<Landmark> = marks;
    let count = pages.len();
    for (i, (page, sheet)) in pages.iter_mut().enumerate() {
        number_links(case, page, &landmarks);
        furnish(case, packet, &packet.sheets[*sheet], page, (i + 1, count));
    }
    troubles.extend(case.take_missing());
    if !troubles.is_empty() {
        return Err(troubles);
    }
    let pages = pages.into_iter().map(|(p, _)| p).collect();
    Ok(Pages { about: packet.about.clone(), pages, landmarks })
}

struct Flow {
    paper: Paper,
    body: Rect,
    /// Pages with the sheet that each belongs to.
    pages: Vec<(Page, usize)>,
    marks: Vec<Landmark>,
    /// Height reached on the page.
    y: f64,
    before: Option<Piece>,
    troubles: Vec<Unprintable>,
}

impl Flow {
    fn new(paper: Paper, titles: &[(u8, String)]) -> Self {
        let mark =
            |(level, text): &(u8, String)| Landmark { level: *level, text: text.clone(), page: 0, y: 0.0 };
        let marks = titles.iter().map(mark).collect();
        let body = paper.body();
        Self { paper, body, pages: Vec::new(), marks, y: 0.0, before: None, troubles: Vec::new() }
    }

    fn sheet(&mut self, sheet: usize, pieces: Vec<Piece>) {
        self.new_page(sheet);
        let mut rest = pieces;
        while !rest.is_empty() {
            // What hangs together, however loosely.
            let n = rest.iter().position(|p| p.keep == Keep::Free).map_or(rest.len(), |i| i + 1);
            let group: Vec<Piece> = rest.drain(..n).collect();
            self.group(sheet, group);
        }
    }

    fn new_page(&mut self, sheet: usize) {
        let (width, height) = self.paper.size();
        self.pages.push((Page { width, height, items: Vec::new() }, sheet));
        self.y = 0.0;
        self.before = None;
    }

    /// Height that pieces take one after the other, at the top of a page or
    /// where the page is now.
    fn height(&self, group: &[Piece], at_top: bool) -> f64 {
        let mut before = if at_top { None } else { self.before.as_ref() };
        let mut h = 0.0;
        for piece in group {
            if before.is_some() {
                h += piece.gap;
            }
            h += piece.heads_due(before).map(|head| head.height).sum::<f64>() + piece.height;
            before = Some(piece);
        }
        h
    }

    fn group(&mut self, sheet: usize, group: Vec<Piece>) {
        if group.first().is_some_and(|p| p.fresh) && self.before.is_some() {
            self.new_page(sheet);
        }
        let inner_break = group.iter().skip(1).any(|p| p.fresh);
        if !inner_break && self.y + self.height(&group, false) <= self.body.height() + 0.01 {
            group.into_iter().for_each(|p| self.put(p));
            return;
        }
        // It begins here all the same where it would leave too much of the page
        // white, and what must stay together fits.
        let begins = |group: &[Piece]| {
            let chain = group.iter().position(|p| p.keep != Keep::Must).map_or(group.len(), |i| i + 1);
            chain < group.len()
                && self.body.height() - self.y > WHITE * self.body.height()
                && self.y + self.height(&group[..chain], false) <= self.body.height() + 0.01
        };
        let mut group = group;
        let mut here = begins(&group);
        if !here && group.iter().any(|p| !p.instead.is_empty()) {
            let apart: Vec<Piece> = group.iter().cloned().flat_map(Piece::apart).collect();
            here = begins(&apart);
            if here {
                group = apart;
            }
        }
        if !here && self.before.is_some() {
            self.new_page(sheet);
        }
        let mut rest = group;
        while !rest.is_empty() {
            let n = rest.iter().position(|p| p.keep != Keep::Must).map_or(rest.len(), |i| i + 1);
            let part: Vec<Piece> = rest.drain(..n).collect();
            let fresh = part[0].fresh && self.before.is_some();
            let fits = self.y + self.height(&part, false) <= self.body.height() + 0.01;
            if (fresh || !fits) && self.before.is_some() {
                self.new_page(sheet);
            }
            for piece in part {
                // A chain that is higher than a page breaks at its pieces.
                let one = std::slice::from_ref(&piece);
                if self.before.is_some() && self.y + self.height(one, false) > self.body.height() + 0.01 {
                    self.new_page(sheet);
                }
                self.put(piece);
            }
        }
    }

    fn put(&mut self, mut piece: Piece) {
        if self.before.is_some() {
            self.y += piece.gap;
        }
        let due: Vec<Rc<Head>> = piece.heads_due(self.before.as_ref()).cloned().collect();
        let over = due.iter().map(|h| h.height).sum::<f64>() + piece.height;
        if self.y + over > self.body.height() + 0.01 {
            let (height, room) = (over / MM, self.body.height() / MM);
            self.troubles.push(Unprintable::TooTall { what: piece.what.clone(), height, room });
        }
        let index = self.pages.len() - 1;
        let page = &mut self.pages[index].0;
        let origin = self.body.origin().to_vec2();
        for head in due {
            let by = origin + Vec2::new(0.0, self.y);
            page.items.extend(head.items.iter().cloned().map(|mut i| {
                i.shift(by);
                i
            }));
            self.y += head.height;
        }
        let by = origin + Vec2::new(0.0, self.y);
        piece.shift(by);
        page.items.append(&mut piece.items);
        for (mark, y) in &piece.marks {
            if let Some(m) = self.marks.get_mut(*mark) {
                (m.page, m.y) = (index, y + by.y);
            }
        }
        self.y += piece.height;
        self.before = Some(piece);
    }
}

/// Writes the page of its landmark at the right end of every link.
fn number_links(case: &Typecase, page: &mut Page, marks: &[Landmark]) {
    let links: Vec<(Rect, usize)> = page
        .items
        .iter()
        .filter_map(|i| if let Item::Link { area, to } = i { Some((*area, *to)) } else { None })
        .collect();
    for (area, to) in links {
        let Some(mark) = marks.get(to) else { continue };
        let look = Look::BODY;
        let mut n = case.words(&(mark.page + 1).to_string(), look);
        n.fit(24.0, Side::Right);
        n.lay(case, area.x1 - 24.0, area.y1 - look.lead, &mut page.items);
    }
}

/// Puts header and footer on a page.
fn furnish(
    case: &Typecase,
    packet: &Packet,
    sheet: &Sheet,
    page: &mut Page,
    (number, count): (usize, usize),
) {
    let f = packet.paper.frame();
    let out = &mut page.items;
    let mut right = f.x1;
    if !sheet.number.is_empty() {
        let mut n = case.words(&sheet.number, Look { lead: 15.0, ..Look::of(13.0) }.bold());
        let w = (n.natural() + 16.0).max(52.0);
        let (h, label_h) = (HEADER - 5.0, 9.0);
        let area = Rect::new(f.x1 - w, f.y0, f.x1, f.y0 + h);
        out.push(Item::rect(area.inflate(-0.5, -0.5), None, Some(Stroke::plain(1.0, Ink::BLACK))));
        let mut label = case.words("sheet", Look { lead: label_h, ..Look::of(7.0) }.soft());
        label.fit(w, Side::Middle);
        label.lay(case, area.x0, f.y0 + 1.2, out);
        n.fit(w, Side::Middle);
        n.lay(case, area.x0, f.y0 + label_h + 0.4, out);
        right = area.x0 - 12.0;
    }
    // The part on the left, what kind of sheet it is beside it.
    let base = f.y0 + HEADER - 8.0;
    let (main, side) = if sheet.part.is_empty() {
        (sheet.title.as_str(), "")
    } else {
        (sheet.part.as_str(), sheet.title.as_str())
    };
    let mut side_para = case.words(side, Look::of(9.5).soft());
    let side_w = if side.is_empty() { 0.0 } else { side_para.natural() };
    let room = right - f.x0 - side_w - 12.0;
    let mut size = 14.0;
    let mut main_para = case.words(main, Look { lead: size, ..Look::of(size) }.bold());
    while main_para.natural() > room && size > 8.5 {
        size -= 0.5;
        main_para = case.words(main, Look { lead: size, ..Look::of(size) }.bold());
    }
    let h = main_para.fit(room, Side::Left);
    main_para.lay(case, f.x0, base - main_para.baseline() - (h - size), out);
    if !side.is_empty() {
        side_para.fit(side_w, Side::Left);
        side_para.lay(case, right - side_w, base - side_para.baseline(), out);
    }
    out.push(Item::line((f.x0, f.y0 + HEADER), (f.x1, f.y0 + HEADER), Stroke::plain(0.6, Ink::BLACK)));
    foot(case, &packet.about, f, (number, count), out);
}

fn foot(case: &Typecase, about: &About, f: Rect, (number, count): (usize, usize), out: &mut Vec<Item>) {
    let top = f.y1 - FOOTER;
    out.push(Item::line((f.x0, top), (f.x1, top), Stroke::plain(0.4, Ink::RULE)));
    let look = Look { lead: 11.0, ..Look::of(7.5) }.soft();
    let y = top + 3.5;
    let w = f.width();
    let mut project = case.words(&about.project, look);
    let mut page = case.words(&format!("page {number} of {count}"), look);
    let (left, right) = (project.natural().min(0.3 * w), page.natural());
    project.fit(left, Side::Left);
    project.lay(case, f.x0, y, out);
    page.fit(right, Side::Right);
    page.lay(case, f.x1 - right, y, out);
    // The remark stands in the middle of the page where it has room there.
    let aside = left.max(right) + 12.0;
    let mut note = case.words(&about.note, look);
    if note.natural() <= w - 2.0 * aside {
        note.fit(w - 2.0 * aside, Side::Middle);
        note.lay(case, f.x0 + aside, y, out);
    } else {
        let room = w - left - right - 24.0;
        note.fit(room, Side::Middle);
        note.lay(case, f.x0 + left + 12.0, y, out);
    }
}
