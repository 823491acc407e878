//! Calculations of the catalogue written out with the arguments put in.

use std::collections::BTreeMap;

use super::super::function::Function;
use super::super::parser::parse;
use super::super::tree::{Expression, Kind, Node};

/// How many calculations within calculations are written out; further ones
/// stay calls. An expansion may name a parameter several times, so that each
/// level multiplies what is shown.
const MOST_LEVELS: usize = 3;

/// What the parameters of an expansion stand for, and where that was written.
struct Given<'a> {
    arguments: BTreeMap<&'static str, &'a Node>,
    outer: Option<&'a Given<'a>>,
}

/// The formula's tree with every calculation that has an expansion written out.
pub(super) fn expanded(expression: &Expression) -> Node {
    written_out(&expression.root, None, 0)
}

fn written_out(node: &Node, given: Option<&Given<'_>>, level: usize) -> Node {
    match &node.kind {
        Kind::Name(name) => {
            let argument = given.and_then(|given| Some((given.arguments.get(name.as_str())?, given.outer)));
            if let Some((argument, outer)) = argument {
                return written_out(argument, outer, level);
            }
        }
        Kind::Call { function: Function::Catalogue(calculation), arguments } if level < MOST_LEVELS => {
            if let Some(expansion) = calculation.expansion.and_then(|text| parse(text).ok()) {
                let names = calculation.parameters.iter().map(|parameter| parameter.name);
                let inner = Given { arguments: names.zip(arguments).collect(), outer: given };
                return written_out(&expansion.root, Some(&inner), level + 1);
            }
        }
        _ => {}
    }
    let mut copy = node.clone();
    for (place, child) in copy.children_mut().into_iter().zip(node.children()) {
        *place = written_out(child, given, level);
    }
    copy
}
