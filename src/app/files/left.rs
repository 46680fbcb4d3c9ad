//! Bands over the bench that wait for no answer: unsaved plans that a crashed run left, a dialog that does not come.

use super::{FileAction, Reply};
use crate::{
    app::{
        action::Action,
        theme::{self, Lettering, STEP},
        widget::{Button, Card},
    },
    store::Remnant,
};
use egui::{Align2, Area, Context, Id, Label, Order, Role, Ui, vec2};
use jiff::{Timestamp, ZonedDateTime};

/// What there is to say of the newest unsaved plan.
pub(super) fn words(left: &[Remnant]) -> Option<String> {
    let found = match &left.first()?.content {
        Ok(snapshot) => {
            format!(
                "An unsaved plan from {} was found: {}.",
                when(snapshot.at, &ZonedDateTime::now()),
                snapshot.rotation.heading()
            )
        }
        Err(e) => format!("An unsaved plan was found that cannot be read: {e}."),
    };
    Some(match left.len() {
        1 => found,
        2 => format!("{found} There is one more."),
        more => format!("{found} There are {} more.", more - 1),
    })
}

/// "14:32", or "6 December, 14:32" on another day than `now`.
fn when(at: Timestamp, now: &ZonedDateTime) -> String {
    let at = at.to_zoned_datetime(now.time_zone().clone());
    let time = at.strftime("%H:%M");
    if at.date() == now.date() { time.to_string() } else { format!("{}, {time}", at.strftime("%-d %B")) }
}

/// Offers the newest unsaved plan. The bench stays free; the keyboard begins here if it is nowhere else.
pub(super) fn left_ui(ctx: &Context, left: &[Remnant], fresh: &mut bool, actions: &mut Vec<Action>) {
    let (Some(words), Some(first)) = (words(left), left.first()) else { return };
    let readable = first.content.is_ok();
    band(ctx, "Unsaved plan found", &words, |ui| {
        let mut choices = vec![("Discard", Reply::ThrowAway), ("Later", Reply::Later)];
        if readable {
            choices.insert(0, ("Restore", Reply::Restore));
        }
        for (place, (words, reply)) in choices.into_iter().enumerate() {
            let button = if place == 0 && readable { Button::primary(words) } else { Button::quiet(words) };
            let response = ui.add(button);
            if std::mem::take(fresh) && ui.memory(|m| m.focused()).is_none() {
                response.request_focus();
            }
            if response.clicked() {
                actions.push(Action::File(FileAction::Reply(reply)));
            }
        }
    });
}

/// Says that the desktop's dialog is awaited, and offers the program's own way.
pub(super) fn slow_ui(ctx: &Context, actions: &mut Vec<Action>) {
    band(ctx, "Waiting for the file dialog", "The desktop's file dialog is open. If you see none, name the file here.", |ui| {
        if ui.add(Button::quiet("Name the file here")).clicked() {
            actions.push(Action::File(FileAction::Reply(Reply::UseBox)));
        }
    });
}

fn band(ctx: &Context, name: &str, words: &str, add: impl FnOnce(&mut Ui)) {
    let width = (ctx.content_rect().width() - 6.0 * STEP).min(720.0);
    Area::new(Id::unique(("files band", name)))
        .order(Order::Middle)
        .anchor(Align2::CENTER_BOTTOM, vec2(0.0, -7.0 * STEP))
        .role(Role::Alert)
        .accessible_name(name)
        .show(ctx, |ui| {
            let palette = theme::palette(ui);
            Card::new().colour(palette.accent).show(ui, |ui| {
                ui.set_max_width(width);
                ui.add(Label::new(Lettering::Body.text(words)).wrap());
                ui.horizontal_wrapped(add);
            });
        });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_day_is_said_where_it_is_not_today() {
        let now = "2026-12-07T15:00:00Z".parse::<Timestamp>().expect("a time").to_zoned_datetime(jiff::tz::TimeZone::UTC);
        let at = |text: &str| when(text.parse().expect("a time"), &now);
        assert_eq!(at("2026-12-07T14:32:10Z"), "14:32");
        assert_eq!(at("2026-12-06T14:32:10Z"), "6 December, 14:32");
    }
}
