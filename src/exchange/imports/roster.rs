//! People out of a `OneRoster` export, an open standard for lists of people.

use std::collections::BTreeMap;

use super::super::cells::Cells;
use super::super::table::Table;
use super::people::no_role;
use super::{Batch, Defaults};
use crate::ground::{Fault, Faults};
use crate::records::{Code, Draft, Grant, Role};

/// Whether a table is the `users.csv` of a `OneRoster` export, by its header.
#[must_use]
pub fn is_roster(table: &Table) -> bool {
    ["sourcedid", "givenname", "familyname"].iter().all(|column| table.has(column))
}

/// What a role of the standard is here.
#[derive(Debug, Clone)]
enum Found {
    Ours(Role),
    /// None of ours; the word it was.
    Other(String),
}

/// People out of the `users.csv` of a `OneRoster` export (1.1 or 1.2).
///
/// Version 1.2 gives roles in a file of their own, `roles.csv`, which can be
/// named; version 1.1 has a column `role`; where neither says anything the
/// default counts. Only code, name and role are taken; nothing else is kept.
/// The code is the `identifier` if it can be one, else the `username`, else
/// the `sourcedId`.
///
/// A `student` is an apprentice here, a `teacher` an instructor. Everyone else
/// is passed over with a remark, administrators of a school among them: who
/// keeps these records or signs at the press is nothing a school's list should
/// decide. So is everyone whose `status` is not `active` or who is not enabled.
#[must_use]
pub fn roster(users: &Table, roles: Option<&Table>, defaults: &Defaults<'_>) -> Batch {
    let mut batch = Batch::default();
    let roles = roles.map(|table| roles_by_user(table, &mut batch.faults));
    for row in users.rows() {
        let mut cells = Cells::new(row);
        let draft = person(&mut cells, roles.as_ref(), defaults);
        batch.drafts.extend(draft);
        batch.faults.0.append(&mut cells.faults.0);
    }
    batch
}

fn person(cells: &mut Cells<'_>, roles: Option<&BTreeMap<String, Found>>, defaults: &Defaults<'_>) -> Option<Draft> {
    let code = ["identifier", "username", "sourcedid"].iter().find_map(|column| Code::parse(cells.text(column)?).ok());
    let known_as = code.as_ref().map_or_else(|| "this row".to_owned(), |code| format!("`{code}`"));
    if let Some(why) = is_gone(cells) {
        let message = format!("{known_as} is passed over: {why}");
        cells.note("status", Fault::new("passed-over", message, "").as_remark());
        return None;
    }
    let said = match roles {
        Some(roles) => cells.text("sourcedid").and_then(|id| roles.get(id)).cloned(),
        None => cells.text("role").map(found),
    };
    let role = match said.or(defaults.role.map(Found::Ours)) {
        Some(Found::Ours(role)) => role,
        Some(Found::Other(word)) => {
            let message = format!("{known_as} is passed over: `{word}` is no role here");
            let mend = "if they belong into the records, enter them by hand: `gearside record person …`";
            cells.note("role", Fault::new("passed-over", message, mend).as_remark());
            return None;
        }
        None => {
            cells.note("role", no_role());
            return None;
        }
    };
    let Some(code) = code else {
        let why = "neither `identifier` nor `username` nor `sourcedId` can be a code";
        let mend =
            "a code holds at most 24 letters a-z, digits, hyphens and full stops; or make a table `code,name,role`";
        cells.note("identifier", Fault::new("code", why, mend));
        return None;
    };
    let names: Vec<&str> = ["givenname", "familyname"].iter().filter_map(|column| cells.text(column)).collect();
    let grant = Grant { role, from: defaults.today, until: None, stages: None, class: None, name: None };
    let name = Some(names.join(" ")).filter(|name| !name.is_empty());
    // A column `note` or `paper` of someone else's table is not one of ours.
    Some(Draft { name, from_is_open: true, paper: None, note: None, ..defaults.draft_of_grant(cells, code, grant)? })
}

/// Why a person is not among those to be entered.
fn is_gone(cells: &Cells<'_>) -> Option<String> {
    let status = cells.text("status").unwrap_or("active");
    if !status.eq_ignore_ascii_case("active") {
        return Some(format!("the status is `{status}`"));
    }
    let is_enabled = cells.text("enableduser").is_none_or(|enabled| enabled.eq_ignore_ascii_case("true"));
    (!is_enabled).then(|| "the account is not enabled".to_owned())
}

fn found(word: &str) -> Found {
    match word.to_lowercase().as_str() {
        "student" => Found::Ours(Role::Apprentice),
        "teacher" => Found::Ours(Role::Instructor),
        _ => Found::Other(word.to_owned()),
    }
}

/// The roles of `roles.csv` by the user's `sourcedId`: the first that is one
/// of ours, where someone has several.
fn roles_by_user(table: &Table, faults: &mut Faults) -> BTreeMap<String, Found> {
    let mut roles: BTreeMap<String, Found> = BTreeMap::new();
    for column in ["usersourcedid", "role"].iter().filter(|column| !table.has(column)) {
        let place = crate::ground::Place { file: Some(table.file().to_owned()), line: Some(1), ..Default::default() };
        let message = format!("the column `{column}` is missing");
        faults.push(Fault::new("missing-column", message, "name the roles.csv of the same export").at(place));
    }
    for row in table.rows() {
        let (Some(user), Some(word)) = (row.get("usersourcedid"), row.get("role")) else { continue };
        if !row.get("status").is_none_or(|status| status.eq_ignore_ascii_case("active")) {
            continue;
        }
        let new = found(word);
        let known = roles.get(user);
        if matches!(known, None | Some(Found::Other(_))) {
            roles.insert(user.to_owned(), new);
        }
    }
    roles
}

#[cfg(test)]
mod tests {
    use super::super::trial::{defaults, programme, said, table};
    use super::*;
    use crate::records::Matter;

    /// The columns of `users.csv` in version 1.2 of the standard.
    const USERS: &str = "sourcedId,status,dateLastModified,enabledUser,username,userIds,givenName,familyName,middleName,\
                         identifier,email,sms,phone,agentSourcedIds,grades,password,userMasterIdentifier,\
                         preferredGivenName,preferredMiddleName,preferredFamilyName,primaryOrgSourcedId,pronouns\n";

    fn user(id: &str, status: &str, enabled: &str, username: &str, identifier: &str) -> String {
        format!("{id},{status},,{enabled},{username},,Ann,Invented,M,{identifier},ann@invented.example,,,,,,,,,,,\n")
    }

    fn drafts(batch: &Batch) -> Vec<(String, Role, Option<String>)> {
        let of = |draft: &Draft| match &draft.matter {
            Matter::Grant(grant) => {
                (draft.person.as_ref().expect("a person").to_string(), grant.role, draft.name.clone())
            }
            other => panic!("{other:?}"),
        };
        batch.drafts.iter().map(of).collect()
    }

    #[test]
    fn roles_come_from_their_own_file_or_the_default() {
        let programme = programme();
        let users = format!(
            "{USERS}{}{}{}",
            user("u1", "active", "true", "ann.invented", "A-17"),
            user("u2", "", "", "ben", "no code"),
            user("u3", "active", "true", "", "")
        );
        let users = table(&users);
        assert!(is_roster(&users));
        let roles = table(
            "sourcedId,status,dateLastModified,userSourcedId,roleType,role,beginDate,endDate,orgSourcedId\n\
             r1,active,,u1,primary,student,,,o1\nr2,active,,u2,primary,aide,,,o1\nr3,active,,u2,secondary,teacher,,,o1\n\
             r4,tobedeleted,,u3,primary,student,,,o1\nr5,active,,u3,primary,siteAdministrator,,,o1\n",
        );
        let batch = roster(&users, Some(&roles), &defaults(&programme));
        let name = Some("Ann Invented".to_owned());
        assert_eq!(
            drafts(&batch),
            [("A-17".into(), Role::Apprentice, name.clone()), ("ben".into(), Role::Instructor, name.clone())]
        );
        assert_eq!(said(&batch), ["t.csv:4, role: `u3` is passed over: `siteAdministrator` is no role here"]);
        assert!(!batch.faults.any());
        let with = Defaults { role: Some(Role::Apprentice), ..defaults(&programme) };
        assert_eq!(drafts(&roster(&users, None, &with)).len(), 3);
        let without = roster(&users, None, &defaults(&programme));
        assert_eq!(without.faults.0.iter().filter(|fault| fault.kind == "role").count(), 3);
    }

    #[test]
    fn who_is_gone_is_passed_over_with_a_remark() {
        let programme = programme();
        let text = format!(
            "{USERS}{}{}{}",
            user("u1", "tobedeleted", "true", "ann", ""),
            user("u2", "active", "false", "ben", ""),
            user("not a code", "active", "true", "é", "")
        );
        let with = Defaults { role: Some(Role::Apprentice), ..defaults(&programme) };
        let batch = roster(&table(&text), None, &with);
        assert_eq!(
            said(&batch),
            [
                "t.csv:2, status: `ann` is passed over: the status is `tobedeleted`",
                "t.csv:3, status: `ben` is passed over: the account is not enabled",
                "t.csv:4, identifier: neither `identifier` nor `username` nor `sourcedId` can be a code",
            ]
        );
    }
}
