//! Text that carries records between people: links, codes and spreadsheet files.
