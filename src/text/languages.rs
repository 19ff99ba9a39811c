//! The list of languages beside English, `languages.txt`: the build reads it for the list that the
//! page shows and for the packs, and tests read it for the forms that a translation needs.

/// A language that has a folder of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tongue {
    /// Its tag (BCP 47), which is also the name of its folder.
    pub tag: String,
    /// Its name in itself.
    pub name: String,
    /// "Not checked by a native speaker", in itself.
    pub note: String,
    /// The plural categories it uses, by their CLDR names.
    pub categories: Vec<String>,
    /// Whether "one" stands for other numbers than 1 too.
    pub one_is_wide: bool,
    /// Whether it is written from right to left.
    pub is_rtl: bool,
}

/// Reads the list; none when a line cannot be read.
pub fn tongues(list: &str) -> Option<Vec<Tongue>> {
    let lines = list.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.map(tongue).collect()
}

fn tongue(line: &str) -> Option<Tongue> {
    let (tag, rest) = line.split_once(" = ")?;
    let parts: Vec<&str> = rest.split(" | ").collect();
    let (name, note, forms, is_rtl) = match parts.as_slice() {
        [name, note, forms] => (name, note, forms, false),
        [name, note, forms, "rtl"] => (name, note, forms, true),
        _ => return None,
    };
    let plain = |form: &str| form.trim_end_matches('+').to_owned();
    let is_tag = tag.chars().all(|sign| sign.is_ascii_alphanumeric() || sign == '-');
    is_tag.then(|| Tongue {
        tag: tag.to_owned(),
        name: (*name).to_owned(),
        note: (*note).to_owned(),
        categories: forms.split(' ').map(plain).collect(),
        one_is_wide: forms.contains("one+"),
        is_rtl,
    })
}
