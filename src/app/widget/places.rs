//! Where panels, menus and dialogs lie, for screen readers.
//!
//! egui tells a screen reader of every panel, menu, popup and dialog, but not where it lies. On
//! Linux a thing without a place lacks the interface readers ask for places, and some then pass
//! over it and all that is in it, which here would be everything.

use std::collections::HashMap;

use egui::accesskit::{Node, NodeId, Rect, Role, TreeUpdate};
use egui::{Context, FullOutput, Plugin};

/// Sees to it that every panel, menu and dialog is told of with its place.
///
/// Once, when the window is made.
pub fn tell_places(ctx: &Context) {
    ctx.add_plugin(Places);
}

struct Places;

impl Plugin for Places {
    fn debug_name(&self) -> &'static str {
        "places for screen readers"
    }

    fn output_hook(&mut self, _: &Context, output: &mut FullOutput) {
        if let Some(update) = &mut output.platform_output.accesskit_update {
            give_places(update);
        }
    }
}

/// Gives each thing without a place the least rectangle around all that is in it.
///
/// The window itself is left out: the desktop knows where that is.
fn give_places(update: &mut TreeUpdate) {
    let index: HashMap<NodeId, usize> = update.nodes.iter().enumerate().map(|(at, (id, _))| (*id, at)).collect();
    let homeless: Vec<usize> = update
        .nodes
        .iter()
        .enumerate()
        .filter(|(_, (_, node))| {
            node.bounds().is_none()
                && !node.children().is_empty()
                && !matches!(node.role(), Role::Window | Role::GenericContainer)
        })
        .map(|(at, _)| at)
        .collect();
    for at in homeless {
        if let Some(place) = around(&update.nodes, &index, at) {
            update.nodes[at].1.set_bounds(place);
        }
    }
}

/// The least rectangle around everything in a thing, however deep.
fn around(nodes: &[(NodeId, Node)], index: &HashMap<NodeId, usize>, at: usize) -> Option<Rect> {
    nodes[at]
        .1
        .children()
        .iter()
        .filter_map(|child| index.get(child))
        .filter_map(|&child| nodes[child].1.bounds().or_else(|| around(nodes, index, child)))
        .reduce(|one, other| one.union(other))
}
