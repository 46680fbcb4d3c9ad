//! An iCalendar file (RFC 5545): the meals, what is cooked ahead, and a reminder for the last day of every box.

use crate::{
    lists::{BoxLabel, KeptFor},
    quantity::{DayNo, System, write_grams},
    rotation::{Rotation, Slot},
    runsheet::{LineKind, RunSheet, clock},
};
use jiff::{
    ToSpan as _,
    civil::{Date, Time},
};

/// How long a meal is entered for where nobody says, in minutes.
const MEAL_MINUTES: u32 = 60;
/// When a reminder of a last day rings, counted from midnight.
const REMIND_AT: &str = "PT9H";
/// The longest line, in bytes, its end not counted (RFC 5545, 3.1).
const LINE: usize = 75;

/// The calendar. Times are floating, as a kitchen's clock is: they stay what they are wherever the file is read.
///
/// A meal with a time is an event of an hour, one without fills its day. The cooking of a day is an event from the first step of
/// its run sheet to the last sit-down, without an alarm; what is cooked for another day is an event of that day. For each box there is an event on the last day that it may be eaten, with an alarm at nine in the morning.
pub fn calendar(rotation: &Rotation, labels: &[BoxLabel], sheets: &[RunSheet], system: System) -> String {
    let mut out = Writer { text: String::new(), mark: mark(rotation), stamp: stamp(rotation.first_day) };
    out.line("BEGIN:VCALENDAR");
    out.line("VERSION:2.0");
    out.line("PRODID:-//Tranche//Tranche//EN");
    out.line("CALSCALE:GREGORIAN");
    out.value("X-WR-CALNAME", &rotation.heading());
    for slot in rotation.slots().filter(|s| !rotation.meal(*s).servings.is_empty()) {
        meal(&mut out, rotation, slot, system);
    }
    for day in rotation.day_numbers() {
        session(&mut out, rotation, day);
    }
    for sheet in sheets {
        cooking(&mut out, rotation, sheet);
    }
    for (number, label) in labels.iter().enumerate() {
        eat_by(&mut out, rotation, number, label, system);
    }
    out.line("END:VCALENDAR");
    out.text
}

struct Writer {
    text: String,
    mark: String,
    stamp: String,
}

impl Writer {
    /// A line as it is, folded: no more than 75 bytes, cut between characters, the rest behind a blank.
    fn line(&mut self, line: &str) {
        let mut room = LINE;
        for c in line.chars() {
            if c.len_utf8() > room {
                self.text.push_str("\r\n ");
                room = LINE - 1;
            }
            room -= c.len_utf8();
            self.text.push(c);
        }
        self.text.push_str("\r\n");
    }

    /// A property whose value is text.
    fn value(&mut self, name: &str, text: &str) {
        self.line(&format!("{name}:{}", escaped(text)));
    }

    fn begin(&mut self, name: &str, summary: &str) {
        self.line("BEGIN:VEVENT");
        self.line(&format!("UID:{name}-{}@tranche.invalid", self.mark));
        let stamp = format!("DTSTAMP:{}", self.stamp);
        self.line(&stamp);
        self.value("SUMMARY", summary);
    }

    fn all_day(&mut self, date: Date) {
        self.line(&format!("DTSTART;VALUE=DATE:{}", of_date(date)));
        // The end of a day is the next, which is not in it; after the last of all days there is none.
        if let Ok(next) = date.tomorrow() {
            self.line(&format!("DTEND;VALUE=DATE:{}", of_date(next)));
        }
    }
}

fn meal(out: &mut Writer, r: &Rotation, slot: Slot, system: System) {
    let servings = &r.meal(slot).servings;
    let named = |s: &crate::rotation::Serving| r.dish_of(s.batch).map(|d| (d.name.clone(), s.portion.get()));
    let dishes: Vec<(String, u32)> = servings.iter().filter_map(named).collect();
    let names: Vec<&str> = dishes.iter().map(|d| d.0.as_str()).collect();
    out.begin(
        &format!("meal-{}-{}", slot.day.0, slot.mealtime.0),
        &format!("{}: {}", r.mealtime_name(slot.mealtime), names.join(", ")),
    );
    match r.mealtimes.iter().find(|m| m.id == slot.mealtime).and_then(|m| m.at) {
        Some(at) => {
            out.line(&format!("DTSTART:{}", of_time(r.date(slot.day), at)));
            out.line(&format!("DURATION:PT{MEAL_MINUTES}M"));
        }
        None => out.all_day(r.date(slot.day)),
    }
    let mut said: Vec<String> = dishes.iter().map(|(name, grams)| format!("{name}, {}", write_grams(*grams, system))).collect();
    for serving in servings {
        said.extend(serving.twins.iter().map(|t| format!("{}: {}", r.household.name(t.eater), t.twin)));
    }
    let names: Vec<&str> = r.eaters_at(slot).iter().map(|e| r.household.name(*e)).collect();
    said.push(format!("At the table: {}", names.join(", ")));
    out.value("DESCRIPTION", &said.join("\n"));
    out.line("END:VEVENT");
}

/// What is made on a day for another.
fn session(out: &mut Writer, r: &Rotation, day: DayNo) {
    let served_today = |b: &crate::rotation::Batch| r.servings_of(b.id).iter().any(|(slot, _)| slot.day == day);
    let made = r.batches.iter().filter(|b| b.day == day && !served_today(b));
    let names: Vec<&str> = made.filter_map(|b| r.dishes.get(&b.dish)).map(|d| d.name.as_str()).collect();
    if !names.is_empty() {
        out.begin(&format!("session-{}", day.0), &format!("Make ahead: {}", names.join(", ")));
        out.all_day(r.date(day));
        out.line("TRANSP:TRANSPARENT");
        out.line("END:VEVENT");
    }
}

/// A day's cooking by its run sheet.
fn cooking(out: &mut Writer, r: &Rotation, sheet: &RunSheet) {
    let steps = || sheet.lines.iter().filter(|l| !matches!(l.kind, LineKind::Sit | LineKind::WashUp));
    let mut dishes: Vec<&str> = Vec::new();
    for line in steps().filter(|l| l.batch.is_some()) {
        if !dishes.contains(&line.dish.as_str()) {
            dishes.push(&line.dish);
        }
    }
    out.begin(&format!("cook-{}", sheet.day.0), &format!("Cook: {}", dishes.join(", ")));
    let start = sheet.summary.start;
    out.line(&format!("DTSTART:{}", of_minute(r.date(sheet.day), start)));
    out.line(&format!("DURATION:PT{}M", sheet.summary.span.max(1)));
    let said: Vec<String> = steps().map(|l| format!("{} {}", clock(l.from), l.what)).collect();
    out.value("DESCRIPTION", &said.join("\n"));
    out.line("END:VEVENT");
}

/// A minute counted from the midnight with which `date` begins; it may lie on a day before or after.
fn of_minute(date: Date, minute: i64) -> String {
    let date = date.checked_add(minute.div_euclid(1_440).days()).unwrap_or(date);
    let of_day = minute.rem_euclid(1_440);
    format!("{}T{:02}{:02}00", of_date(date), of_day / 60, of_day % 60)
}

fn eat_by(out: &mut Writer, r: &Rotation, number: usize, label: &BoxLabel, system: System) {
    let summary = format!("Last day: {}", label.what);
    out.begin(&format!("box-{}", number + 1), &summary);
    out.all_day(r.date(label.eat_by));
    out.line("TRANSP:TRANSPARENT");
    let grams = write_grams(label.grams.get(), system);
    let mut said =
        vec![format!("{grams}, {} {}", label.holds.since_word(), r.day_name(label.since)), label.warming.words().into()];
    match &label.kept_for {
        KeptFor::Meal { slot, .. } => said.push(format!("for {}", r.slot_name(*slot))),
        KeptFor::Dish { day, name } => said.push(format!("for {name}, {}", r.day_name(*day))),
        KeptFor::Open => {}
    }
    said.extend(label.tender.iter().map(|(d, names)| format!("{}: by {}", names.join(", "), r.day_name(*d))));
    out.value("DESCRIPTION", &said.join("\n"));
    out.line("BEGIN:VALARM");
    out.line("ACTION:DISPLAY");
    out.line(&format!("TRIGGER:{REMIND_AT}"));
    out.value("DESCRIPTION", &summary);
    out.line("END:VALARM");
    out.line("END:VEVENT");
}

/// Text as RFC 5545, 3.3.11 escapes it; a control character that may not stand there is a blank.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            '\\' | ';' | ',' => out.extend(['\\', c]),
            '\n' => out.push_str("\\n"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

fn of_date(date: Date) -> String {
    format!("{:04}{:02}{:02}", date.year(), date.month(), date.day())
}

fn of_time(date: Date, at: Time) -> String {
    format!("{}T{:02}{:02}{:02}", of_date(date), at.hour(), at.minute(), at.second())
}

/// When the entries were made: nobody here reads a clock, so it is the midnight with which the plan begins.
fn stamp(first: Date) -> String {
    format!("{}T000000Z", of_date(first))
}

/// Tells the entries of this plan from those of others, and stays while the plan is edited (FNV-1a, 64 bits; RFC 9923).
fn mark(r: &Rotation) -> String {
    let named = format!("{}/{}/{}", r.title, r.kind.id, r.first_day);
    let hash = named.bytes().fold(0xcbf2_9ce4_8422_2325u64, |h, b| (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3));
    format!("{hash:016x}")
}
