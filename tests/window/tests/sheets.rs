//! Do the sheets change the plan as they say, refuse in words, and let the person out again?

use egui::{Key, Modifiers, accesskit::Role};
use egui_kittest::{
    Harness,
    kittest::{NodeT as _, Queryable as _},
};
use tranche::{
    app::{action::Action, files::FileAction, sheet::Sheet, theme},
    quantity::{DayNo, Units},
    rotation::{MealtimeId, Rotation, Slot},
};
use tranche_window_tests::sheet_desk::{SheetDesk, empty_plan, plan};

type Desk = Harness<'static, SheetDesk>;

fn open_sized(which: Sheet, rotation: Rotation, size: [f32; 2]) -> Desk {
    let mut dressed = false;
    let desk = Harness::builder().with_size(size).with_max_steps(12).build_ui_state(
        move |ui, desk: &mut SheetDesk| {
            if !dressed {
                theme::install_fonts(ui.ctx());
                theme::apply(ui.ctx(), theme::Look::Light, true);
                dressed = true;
                return;
            }
            let _ = ui.button("Somewhere on the bench");
            desk.frame(ui.ctx());
        },
        SheetDesk::new(rotation, which),
    );
    desk
}

fn open(which: Sheet, rotation: Rotation) -> Desk {
    let mut desk = open_sized(which, rotation, [1440.0, 2400.0]);
    desk.run();
    desk
}

fn type_into(desk: &mut Desk, label: &str, text: &str) {
    desk.get_by_role_and_label(Role::TextInput, label).focus();
    desk.run();
    desk.get_by_role_and_label(Role::TextInput, label).type_text(text);
    desk.run();
}

fn focused(desk: &Desk) -> Option<String> {
    let node = desk.root().children_recursive().find(|n| n.is_focused())?;
    node.accesskit_node().label().or_else(|| node.accesskit_node().labelled_by().next().and_then(|l| l.value()))
}

#[test]
fn probe() {
    for which in [Sheet::Piece, Sheet::Household, Sheet::Days, Sheet::Start, Sheet::About, Sheet::Keys] {
        let mut desk = open(which, plan());
        print!("{which:?}: {:?}", focused(&desk));
        for _ in 0..40 {
            desk.key_press(Key::Tab);
            desk.run();
            print!(", {:?}", focused(&desk).unwrap_or_default());
        }
        println!();
    }
}
