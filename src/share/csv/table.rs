//! The plain table under a spreadsheet file: rows of cells, whatever they mean.

/// Largest file read, in bytes. Design choice.
pub const CSV_BYTES_MAX: usize = 1_000_000;
/// Most rows read. Design choice.
pub const CSV_ROWS_MAX: usize = 20_000;
/// Most cells of a row. Design choice.
const CELLS_MAX: usize = 200;

/// Why a text is no table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TableProblem {
    /// Over a million bytes.
    TooLarge,
    /// Too many rows, or too many cells in one.
    TooManyCells,
    /// A quoted cell does not end; it starts in this row, counted from 1.
    OpenQuote {
        /// The row.
        row: usize,
    },
}

/// Rows of cells. Empty lines are left out; `lines` says which line each row starts on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Table {
    /// The cells.
    pub rows: Vec<Vec<String>>,
    /// The line each row starts on, counted from 1.
    pub lines: Vec<usize>,
}

/// Where the reader stands.
#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    /// At the start of a cell.
    Start,
    /// In a cell without quotes, or behind the closing quote.
    Plain,
    /// Between quotes.
    Quoted,
    /// Behind a quote that may close the cell or stand for a quote.
    QuoteInQuoted,
}

/// Reads a table. The separator (`;`, tab or `,`) is the one most frequent in the first line; a byte
/// order mark is skipped; lines may end with line feed, carriage return or both.
///
/// # Errors
/// A [`TableProblem`], when the text is too large or a quote stays open.
///
/// ```
/// use two_marks::share::csv::read_table;
/// let table = read_table("a;b\r\n\"1;5\";\"say \"\"hi\"\"\"\r\n").unwrap();
/// assert_eq!(table.rows, [vec!["a", "b"], vec!["1;5", "say \"hi\""]]);
/// ```
pub fn read_table(text: &str) -> Result<Table, TableProblem> {
    if text.len() > CSV_BYTES_MAX {
        return Err(TableProblem::TooLarge);
    }
    let text = text.trim_start_matches('\u{feff}');
    let mut reader = Reader::new(separator(text));
    for sign in text.chars() {
        reader.take(sign)?;
    }
    reader.finish()
}

/// The most frequent candidate of the first line, the semicolon before the others.
fn separator(text: &str) -> char {
    let first = text.lines().find(|line| !line.is_empty()).unwrap_or_default();
    let count = |wanted: char| first.chars().filter(|sign| *sign == wanted).count();
    let mut best = (',', count(','));
    for candidate in ['\t', ';'] {
        if count(candidate) > best.1 {
            best = (candidate, count(candidate));
        }
    }
    best.0
}

struct Reader {
    separator: char,
    state: State,
    table: Table,
    row: Vec<String>,
    cell: String,
    line: usize,
    row_line: usize,
    quote_line: usize,
    after_return: bool,
}

impl Reader {
    fn new(separator: char) -> Self {
        Self {
            separator,
            state: State::Start,
            table: Table::default(),
            row: Vec::new(),
            cell: String::new(),
            line: 1,
            row_line: 1,
            quote_line: 1,
            after_return: false,
        }
    }

    fn take(&mut self, sign: char) -> Result<(), TableProblem> {
        let completes_line_end = sign == '\n' && self.after_return;
        self.after_return = sign == '\r';
        if self.state == State::Quoted {
            self.take_quoted(sign, completes_line_end);
            return Ok(());
        }
        match sign {
            '"' if self.state == State::Start => {
                (self.state, self.quote_line) = (State::Quoted, self.line);
            }
            '"' if self.state == State::QuoteInQuoted => {
                self.cell.push('"');
                self.state = State::Quoted;
            }
            '\n' if completes_line_end => self.row_line = self.line,
            '\n' | '\r' => {
                self.line += 1;
                self.end_row()?;
            }
            _ if sign == self.separator => self.end_cell()?,
            _ => {
                self.cell.push(sign);
                self.state = State::Plain;
            }
        }
        Ok(())
    }

    fn take_quoted(&mut self, sign: char, completes_line_end: bool) {
        if sign == '"' {
            self.state = State::QuoteInQuoted;
            return;
        }
        if matches!(sign, '\n' | '\r') && !completes_line_end {
            self.line += 1;
        }
        self.cell.push(sign);
    }

    fn end_cell(&mut self) -> Result<(), TableProblem> {
        if self.row.len() >= CELLS_MAX {
            return Err(TableProblem::TooManyCells);
        }
        self.row.push(std::mem::take(&mut self.cell));
        self.state = State::Start;
        Ok(())
    }

    fn end_row(&mut self) -> Result<(), TableProblem> {
        let is_blank = self.row.is_empty() && self.state == State::Start;
        if !is_blank {
            self.end_cell()?;
            if self.table.rows.len() >= CSV_ROWS_MAX {
                return Err(TableProblem::TooManyCells);
            }
            self.table.rows.push(std::mem::take(&mut self.row));
            self.table.lines.push(self.row_line);
        }
        self.row_line = self.line;
        Ok(())
    }

    fn finish(mut self) -> Result<Table, TableProblem> {
        if self.state == State::Quoted {
            return Err(TableProblem::OpenQuote { row: self.quote_line });
        }
        self.end_row()?;
        Ok(self.table)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn lines_are_counted_through_quoted_line_ends() {
        let table = read_table("a,b\r\n\"x\r\ny\",1\r\n\r\n2,3").unwrap();
        assert_eq!(table.lines, [1, 2, 5]);
    }

    #[test]
    fn an_open_quote_is_named_by_its_line() {
        assert_eq!(read_table("a,b\n1,\"2\n3"), Err(TableProblem::OpenQuote { row: 2 }));
    }

    #[test]
    fn too_much_is_refused() {
        assert_eq!(read_table(&"a".repeat(1_000_001)), Err(TableProblem::TooLarge));
        assert_eq!(read_table(&"a\n".repeat(20_001)), Err(TableProblem::TooManyCells));
        assert_eq!(read_table(&",".repeat(201)), Err(TableProblem::TooManyCells));
    }

    fn any_rows() -> impl Strategy<Value = Vec<Vec<String>>> {
        (2usize..5).prop_flat_map(|width| {
            let cell = "[a-c0-9 ,;\"\n\r\té]{0,6}";
            prop::collection::vec(prop::collection::vec(cell, width), 1..6)
        })
    }

    proptest! {
        #[test]
        fn what_the_csv_crate_writes_is_read(rows in any_rows(), by_semicolon in any::<bool>()) {
            let separator = if by_semicolon { b';' } else { b',' };
            let mut writer = csv::WriterBuilder::new().delimiter(separator).from_writer(Vec::new());
            // The first line decides on the separator, so it holds names only.
            let names = vec!["name"; rows[0].len()];
            writer.write_record(&names).unwrap();
            for row in &rows {
                writer.write_record(row).unwrap();
            }
            let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
            let read = read_table(&text).unwrap().rows;
            prop_assert_eq!(&read[1..], &rows[..]);
        }

        #[test]
        fn any_text_reads_as_the_csv_crate_reads_it(text in "[ab,\"\r\n]{0,24}") {
            let text = format!("n,m\n{text}");
            let Ok(table) = read_table(&text) else {
                // An open quote: the crate takes the rest as the cell, we say so.
                return Ok(());
            };
            let mut reader = csv::ReaderBuilder::new()
                .has_headers(false)
                .flexible(true)
                .from_reader(text.as_bytes());
            let theirs: Vec<Vec<String>> = reader
                .records()
                .map(|row| row.unwrap().iter().map(str::to_owned).collect())
                .collect();
            prop_assert_eq!(table.rows, theirs);
        }

        #[test]
        fn no_text_stops_the_reader(text in any::<String>()) {
            let _ = read_table(&text);
        }
    }
}
