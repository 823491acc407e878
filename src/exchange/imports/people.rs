//! People and their roles.

use super::super::cells::Cells;
use super::super::table::{Shape, Table};
use super::{Batch, Defaults, is_roster, roster, rows};
use crate::ground::Fault;
use crate::records::{Code, Draft, Grant, Matter, Role};

const SHAPE: Shape = Shape {
    needed: &["code"],
    allowed: &["name", "role", "from", "until", "stages", "class", "date", "seen_by", "paper", "note"],
};

/// People out of a table with the columns `code`, and `name`, `role`, `from`,
/// `until`, `stages` (parted by blanks, `;` or `|`), `class`, `paper`, `note`
/// where they are wanted; or out of the `users.csv` of a `OneRoster` export,
/// which is known by its header (see [`roster()`]).
///
/// A row without a name keeps the code alone. A row without a first day begins
/// today, or leaves an earlier grant of the same role as it is.
///
/// ```
/// use gearside::exchange::{imports, table::Table};
/// use gearside::programme::{Origin, load_without_banks};
/// use gearside::records::Code;
/// let programme = load_without_banks(&Origin::Shipped).unwrap().programme.unwrap();
/// let entered_by = Code::parse("c-1").unwrap();
/// let today = jiff::civil::date(2026, 9, 1);
/// let defaults = imports::Defaults { programme: &programme, entered_by, today, role: None };
/// let table = Table::parse("people.csv", "code,name,role\na-1,Ann Invented,apprentice\n").unwrap();
/// let batch = imports::people(&table, &defaults);
/// assert!(!batch.faults.any());
/// assert_eq!(batch.drafts[0].name.as_deref(), Some("Ann Invented"));
/// ```
#[must_use]
pub fn people(table: &Table, defaults: &Defaults<'_>) -> Batch {
    if is_roster(table) {
        return roster(table, None, defaults);
    }
    rows(table, &SHAPE, |cells| {
        let code = cells.code("code");
        let role = role(cells, defaults);
        let from = cells.date_if_any("from");
        let until = cells.date_if_any("until");
        let stages = Some(cells.words("stages")).filter(|stages| !stages.is_empty());
        let grant = Grant {
            role: role?,
            from: from.unwrap_or(defaults.today),
            until,
            stages,
            class: cells.text("class").map(Into::into),
            name: None,
        };
        let name = cells.text("name").map(str::to_owned);
        Some(Draft { name, from_is_open: from.is_none(), ..defaults.draft_of_grant(cells, code?, grant)? })
    })
}

fn role(cells: &mut Cells<'_>, defaults: &Defaults<'_>) -> Option<Role> {
    match (cells.text("role"), defaults.role) {
        (None, Some(role)) => Some(role),
        (None, None) => {
            cells.note("role", no_role());
            None
        }
        (Some(_), _) => cells.one_of("role", &Role::ALL, Role::word),
    }
}

/// The fault of a row that gives no role.
pub(super) fn no_role() -> Fault {
    let words: Vec<&str> = Role::ALL.iter().map(|role| role.word()).collect();
    Fault::new(
        "role",
        "no role is given",
        format!("give one in the column `role` or with --role: {}", words.join(", ")),
    )
}

impl Defaults<'_> {
    pub(super) fn draft_of_grant(&self, cells: &mut Cells<'_>, code: Code, grant: Grant) -> Option<Draft> {
        let seen_by = cells.code_or("seen_by", &self.entered_by)?;
        let seen_on = cells.date_if_any("date").unwrap_or(self.today);
        Some(self.draft(cells, Some(code), (seen_by, seen_on), Matter::Grant(grant)))
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{defaults, programme, said, table};
    use super::*;

    #[test]
    fn a_row_is_a_role_of_a_person() {
        let programme = programme();
        let text = "Code;Name;Role;From;Until;Stages;Class\na-1;Ann Invented;Apprentice;2026-09-01;;;north\n\
                    s-1;;assessor;;2027-08-31;safety inking|measuring;\n";
        let batch = people(&table(text), &defaults(&programme));
        assert_eq!(said(&batch), Vec::<String>::new());
        let [first, second] = batch.drafts.as_slice() else { panic!("two drafts") };
        let grant = |draft: &Draft| match &draft.matter {
            Matter::Grant(grant) => grant.clone(),
            other => panic!("{other:?}"),
        };
        assert_eq!(
            (first.name.as_deref(), first.from_is_open, first.place.line),
            (Some("Ann Invented"), false, Some(2))
        );
        assert_eq!((grant(first).role, grant(first).class.as_deref()), (Role::Apprentice, Some("north")));
        assert_eq!((second.name.as_deref(), second.from_is_open), (None, true));
        assert_eq!(grant(second).from, defaults(&programme).today);
        let stages = grant(second).stages.expect("stages");
        assert_eq!(stages.iter().map(|stage| &**stage).collect::<Vec<_>>(), ["safety", "inking", "measuring"]);
    }

    #[test]
    fn every_fault_of_every_row_is_named() {
        let programme = programme();
        let text = "code,name,role,from\nann other,,aprentice,1.9.2026\n,x,,\n";
        let batch = people(&table(text), &defaults(&programme));
        assert!(batch.drafts.is_empty());
        assert_eq!(
            said(&batch),
            [
                "t.csv:2, code: `ann other` is not a code",
                "t.csv:2, role: `aprentice` is no word for `role`",
                "t.csv:2, from: `1.9.2026` is not a date that can be read without doubt: day and month are written in both orders",
                "t.csv:3, code: `code` is empty",
                "t.csv:3, role: no role is given",
            ]
        );
        assert_eq!(batch.faults.0[1].mend, "did you mean `apprentice`?");
    }

    #[test]
    fn a_role_that_is_not_given_is_the_default() {
        let programme = programme();
        let with = Defaults { role: Some(Role::Apprentice), ..defaults(&programme) };
        let batch = people(&table("code\na-1\n"), &with);
        assert!(matches!(&batch.drafts[0].matter, Matter::Grant(grant) if grant.role == Role::Apprentice));
    }
}
