//! The language of the pages: every text of our own that a page shows stands
//! once, under a key, in a file of `site-template/language/`.
//!
//! The language is chosen once, in `cli`, as "now" is; until then it is English.
//!
//! ```
//! use gearside::ground::say;
//! assert_eq!(say!("count.exercises", n = 1), "1 exercise");
//! assert_eq!(say!("count.exercises", n = 12), "12 exercises");
//! ```

mod file;
mod text;

use std::collections::BTreeMap;
use std::fmt::Display;
use std::sync::{Arc, LazyLock, PoisonError, RwLock};

use intl_pluralrules::{PluralCategory, PluralRuleType, PluralRules};
use unic_langid::{CharacterDirection, LanguageIdentifier};

pub use text::Text;

/// The language of whoever names none, and the model of all others.
pub const DEFAULT: &str = "english";

/// The files built in: name and text.
pub const BUILT_IN: [(&str, &str); 2] = [
    (DEFAULT, include_str!("../../../site-template/language/english.yaml")),
    ("spanish", include_str!("../../../site-template/language/spanish.yaml")),
];

/// A language with all its texts.
#[derive(Debug, Clone)]
pub struct Language {
    /// The name of its file.
    name: String,
    /// Its tag as pages carry it.
    tag: LanguageIdentifier,
    texts: BTreeMap<String, Text>,
}

/// The language spoken; none yet means English.
static SPOKEN: RwLock<Option<Arc<Language>>> = RwLock::new(None);
static ENGLISH: LazyLock<Arc<Language>> = LazyLock::new(|| Arc::new(Language::built_in_english()));

/// Chooses the language of all pages from here on.
pub fn speak(language: Language) {
    *SPOKEN.write().unwrap_or_else(PoisonError::into_inner) = Some(Arc::new(language));
}

/// The language spoken now.
#[must_use]
pub fn spoken() -> Arc<Language> {
    let spoken = SPOKEN.read().unwrap_or_else(PoisonError::into_inner);
    spoken.as_ref().unwrap_or(&ENGLISH).clone()
}

/// The text under a key, with its holes filled; [`say!`] is how it is called.
#[must_use]
pub fn filled(key: &str, holes: &[(&str, &dyn Display)]) -> String {
    spoken().say(key, holes)
}

impl Language {
    /// The name of its file.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its tag as pages carry it: `en`, `es`.
    #[must_use]
    pub fn tag(&self) -> String {
        self.tag.to_string()
    }

    /// `rtl` where it is written from right to left, `ltr` otherwise.
    #[must_use]
    pub fn direction(&self) -> &'static str {
        match self.tag.character_direction() {
            CharacterDirection::RTL => "rtl",
            CharacterDirection::LTR | CharacterDirection::TTB => "ltr",
        }
    }

    /// The text under a key. A key that no file has is shown as it is; a test
    /// holds all keys of the program to the files.
    #[must_use]
    pub fn say(&self, key: &str, holes: &[(&str, &dyn Display)]) -> String {
        let Some(text) = self.texts.get(key) else {
            return key.to_owned();
        };
        let number = holes.iter().find(|(hole, _)| *hole == "n").map(|(_, value)| value.to_string());
        text.form(number.map(|number| self.category(&number))).filled(holes)
    }

    /// The texts under some keys, by key.
    #[must_use]
    pub fn texts(&self) -> &BTreeMap<String, Text> {
        &self.texts
    }

    /// The form of the plural that a number takes here.
    fn category(&self, number: &str) -> PluralCategory {
        let rules = PluralRules::create(self.tag.clone(), PluralRuleType::CARDINAL);
        rules.ok().and_then(|rules| rules.select(number).ok()).unwrap_or(PluralCategory::OTHER)
    }
}

/// A text of the language spoken, by its key, with its holes filled by name.
/// What stands in the hole `n` chooses between singular and plural.
///
/// ```
/// use gearside::ground::say;
/// assert_eq!(say!("page.to-the-page"), "To the page");
/// assert_eq!(say!("count.exercises", n = 2), "2 exercises");
/// ```
#[macro_export]
macro_rules! say {
    ($key:literal $(, $hole:ident = $value:expr)* $(,)?) => {
        $crate::ground::language::filled($key, &[$((stringify!($hole), &$value as &dyn ::std::fmt::Display)),*])
    };
}
