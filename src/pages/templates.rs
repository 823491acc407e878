//! Templates: the built-in ones, each of which a file of the same name may replace.

use std::collections::BTreeMap;
use std::path::Path;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use minijinja::syntax::SyntaxConfig;
use minijinja::{AutoEscape, Environment, UndefinedBehavior, Value};
use sha2::{Digest, Sha256};

use super::{shipped, tongue};
use crate::ground::files::{self, TextFault};
use crate::ground::{Fault, Place, nearest_name};

/// The scripts of a page, in the order they are run.
const SCRIPTS: &[&str] = &[
    "reading.js",
    "marking.js",
    "page-say.js",
    "page-dom.js",
    "page-memory.js",
    "page-fields.js",
    "page-moves.js",
    "page-rounds.js",
    "page-verdict.js",
    "page-exercise.js",
    "page-numeric.js",
    "page-whole.js",
    "page.js",
];
/// The scripts of a docket: it reads what is typed, and marks nothing.
const DOCKET_SCRIPTS: &[&str] = &[
    "reading.js",
    "page-say.js",
    "page-dom.js",
    "page-fields.js",
    "page-moves.js",
    "page-rounds.js",
    "docket-answers.js",
    "docket.js",
];
/// The scripts of the coordinator's pages.
const BOARD_SCRIPTS: &[&str] = &["page-say.js", "board.js"];
/// What a page with a script does before it is laid out: it makes room for all that the script is for, so that nothing
/// moves when the script is there at last. Should the script then fail, the page says so again.
const AT_ONCE: &str = "{const root=document.documentElement;root.classList.add('scripted');\
    addEventListener('error',()=>{if(!('ready'in root.dataset))root.classList.remove('scripted')})}";
/// The face for mathematics.
const MATHEMATICS: &str = "url(\"fonts/mathematics.woff2\")";
/// What only a page that marks has a style for.
const OF_VERDICTS: &[&str] = &["[data-state", "verdict"];
/// How many steps a template may take: far more than any page needs.
const FUEL: u64 = 20_000_000;
/// The longest file of a template folder, in bytes.
const LONGEST: u64 = 2_000_000;

/// All templates, ready to render.
#[derive(Debug)]
pub(super) struct Templates {
    environment: Environment<'static>,
    /// The style sheet with its fonts inline.
    pub(super) style: String,
    /// The page script.
    pub(super) script: String,
    /// The style sheet of the coordinator's pages, which have no mathematics.
    pub(super) board_style: String,
    /// The style sheet of the instructor's pages of a quiz.
    pub(super) key_style: String,
    /// The script of the coordinator's pages.
    pub(super) board_script: String,
    /// The style sheets of a docket without mathematics and of one with.
    pub(super) docket_styles: [String; 2],
    /// The script of a docket.
    pub(super) docket_script: String,
    /// The style sheet of marked dockets.
    pub(super) marked_style: String,
    /// The style sheet of the page of statistics, which has no mathematics.
    pub(super) statistics_style: String,
}

/// The built-in files: name and bytes.
#[must_use]
pub fn defaults() -> Vec<(String, Vec<u8>)> {
    shipped::FILES.iter().map(|(name, bytes)| ((*name).to_owned(), bytes.to_vec())).collect()
}

impl Templates {
    /// Loads the built-in files, with those of `folder` in their place.
    pub(super) fn load(folder: Option<&Path>) -> Result<Self, Vec<Fault>> {
        let mut texts: BTreeMap<String, String> = BTreeMap::new();
        let mut fonts: BTreeMap<String, &[u8]> = BTreeMap::new();
        for (name, bytes) in shipped::FILES {
            match std::str::from_utf8(bytes) {
                Ok(text) if !name.ends_with(".woff2") => drop(texts.insert((*name).to_owned(), text.to_owned())),
                _ => drop(fonts.insert((*name).to_owned(), bytes)),
            }
        }
        if let Some(folder) = folder {
            replace(folder, &mut texts)?;
        }
        let text = |name: &str| texts.get(name).map_or("", String::as_str);
        let bundle =
            |names: &[&str]| names.iter().map(|name| text(name)).fold(String::new(), |all, one| all + one + "\n");
        let plain = text("style.css");
        let docket = without(plain, OF_VERDICTS) + text("docket.css");
        let style = with_fonts(plain, &fonts);
        let key_style = style.clone() + text("quiz-key.css");
        let marked_style = style.clone() + text("marked.css");
        let board_style = with_fonts(&without(&(plain.to_owned() + text("board.css")), &[MATHEMATICS]), &fonts);
        let statistics_style = board_style.clone() + text("marked.css");
        let docket_styles = [with_fonts(&without(&docket, &[MATHEMATICS]), &fonts), with_fonts(&docket, &fonts)];
        let [script, docket_script, board_script] = [SCRIPTS, DOCKET_SCRIPTS, BOARD_SCRIPTS].map(bundle);
        let mut environment = Environment::new();
        environment.set_undefined_behavior(UndefinedBehavior::Strict);
        environment
            .set_auto_escape_callback(|name| if name.ends_with(".html") { AutoEscape::Html } else { AutoEscape::None });
        if let Ok(syntax) = SyntaxConfig::builder().trim_blocks(true).lstrip_blocks(true).build() {
            environment.set_syntax(syntax);
        }
        environment.set_fuel(Some(FUEL));
        tongue::teach(&mut environment);
        environment.add_global("at_once", Value::from_safe_string(AT_ONCE.to_owned()));
        for (name, text) in texts.into_iter().filter(|(name, _)| name.ends_with(".html")) {
            environment.add_template_owned(name.clone(), text).map_err(|error| vec![template_fault(&name, &error)])?;
        }
        Ok(Self {
            environment,
            style,
            script,
            board_style,
            key_style,
            board_script,
            docket_styles,
            docket_script,
            marked_style,
            statistics_style,
        })
    }

    /// Renders a template. Values under keys that end in `_html` or `_json`
    /// (and a page's style and script) are safe as they are.
    pub(super) fn render(&self, name: &str, context: serde_json::Value) -> Result<String, Box<Fault>> {
        let template = self.environment.get_template(name).map_err(|error| Box::new(template_fault(name, &error)))?;
        template.render(safe(context, "")).map_err(|error| Box::new(template_fault(name, &error)))
    }
}

/// A style sheet with its fonts inline.
fn with_fonts(style: &str, fonts: &BTreeMap<String, &[u8]>) -> String {
    fonts.iter().fold(style.to_owned(), |style, (name, bytes)| {
        let inline = format!("url(\"data:font/woff2;base64,{}\")", STANDARD.encode(bytes));
        style.replace(&format!("url(\"{name}\")"), &inline)
    })
}

/// A style sheet without the lines about something. The face for mathematics
/// is a third of a page that shows none.
fn without(style: &str, about: &[&str]) -> String {
    let kept = style.lines().filter(|line| !about.iter().any(|one| line.contains(one)));
    kept.fold(String::new(), |all, line| all + line + "\n")
}

/// The content security policy of a page with this style and script.
pub(super) fn policy(style: &str, script: &str) -> String {
    let hash = |text: &str| format!("'sha256-{}'", STANDARD.encode(Sha256::digest(text.as_bytes())));
    let scripts = if script.is_empty() { "'none'".to_owned() } else { format!("{} {}", hash(AT_ONCE), hash(script)) };
    format!(
        "default-src 'none'; script-src {scripts}; style-src {}; font-src data:; img-src data:; base-uri 'none'; form-action 'none'",
        hash(style)
    )
}

/// Puts the files of a folder in the place of ours.
fn replace(folder: &Path, texts: &mut BTreeMap<String, String>) -> Result<(), Vec<Fault>> {
    let place = |name: &str| Place { file: Some(folder.join(name).display().to_string()), ..Place::default() };
    let names = files::list(folder, "")
        .map_err(|fault| vec![Fault::new("template-folder", fault.to_string(), "name a folder that can be read")])?;
    let mut faults = Vec::new();
    for name in names.iter().filter(|name| folder.join(name).is_file()) {
        if !texts.contains_key(name) {
            // Notes and licences may lie beside the templates.
            if name.ends_with(".md") || name.ends_with(".txt") {
                continue;
            }
            let near = nearest_name(name, texts.keys().map(String::as_str)).map_or_else(
                || "`gearside workbook --templates DIR` writes all of them out".to_owned(),
                |near| format!("did you mean `{near}`?"),
            );
            faults.push(
                Fault::new("template-name", format!("there is no template `{name}` to stand in for"), near)
                    .at(place(name)),
            );
            continue;
        }
        match files::read_text(&folder.join(name), LONGEST) {
            Ok(text) => drop(texts.insert(name.clone(), text)),
            Err(TextFault::Content(fault)) => faults.push(*fault),
            Err(TextFault::Machine(fault)) => {
                faults.push(Fault::new("template-folder", fault.to_string(), "make the file readable"));
            }
        }
    }
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

fn template_fault(name: &str, error: &minijinja::Error) -> Fault {
    let file = error.name().unwrap_or(name).to_owned();
    let place = Place { file: Some(file), line: error.line(), ..Place::default() };
    Fault::new(
        "template",
        format!("the template cannot be filled in: {error}"),
        "compare it with the built-in one: `gearside workbook --templates DIR` writes it out",
    )
    .at(place)
}

/// JSON as template values, with safe strings where the key says so.
fn safe(value: serde_json::Value, key: &str) -> Value {
    match value {
        serde_json::Value::String(text) => {
            let is_safe =
                key == "html" || key.ends_with("_html") || key.ends_with("_json") || key == "style" || key == "script";
            if is_safe { Value::from_safe_string(text) } else { Value::from(text) }
        }
        serde_json::Value::Array(list) => list.into_iter().map(|one| safe(one, key)).collect(),
        serde_json::Value::Object(map) => {
            let safe = |(key, one): (String, serde_json::Value)| {
                let value = safe(one, &key);
                (key, value)
            };
            Value::from(map.into_iter().map(safe).collect::<BTreeMap<String, Value>>())
        }
        // Templates get finished strings only; nothing else is ever put in.
        other => Value::from(other.to_string()),
    }
}

/// JSON text that may stand in a script block.
pub(super) fn json_for_script(value: &serde_json::Value) -> String {
    value.to_string().replace('<', "\\u003c").replace('\u{2028}', "\\u2028").replace('\u{2029}', "\\u2029")
}
