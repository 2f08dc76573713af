//! The data files of this crate: rows under a header that must be the wanted one.

/// A data file that can't be used. Only a faulty build can cause it; a test keeps the files sound.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{file}, line {line}: {what}")]
pub struct RowsError {
    /// File.
    pub file: &'static str,
    /// Line, from 1; 0 where no line is meant.
    pub line: u64,
    /// What is wrong.
    pub what: String,
}

/// All rows with their lines, columns in the order of `head`.
pub(crate) fn rows<const N: usize>(file: &'static str, text: &str, head: [&str; N]) -> Result<Vec<(u64, [String; N])>, RowsError> {
    let wrong = |line: u64, what: String| RowsError { file, line, what };
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(text.as_bytes());
    let found = reader.headers().map_err(|why| wrong(1, why.to_string()))?;
    if found.iter().ne(head) {
        return Err(wrong(1, format!("the columns must be {}", head.join(","))));
    }
    let mut out = Vec::new();
    for record in reader.into_records() {
        let record = record.map_err(|why| wrong(why.position().map_or(0, csv::Position::line), why.to_string()))?;
        let line = record.position().map_or(0, csv::Position::line);
        let cells: Vec<String> = record.iter().map(str::to_owned).collect();
        out.push((line, cells.try_into().map_err(|_| wrong(line, "another number of columns than the head".into()))?));
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_broken_file_names_its_line() {
        assert_eq!(rows("a.csv", "x,y\n1,2\n", ["x", "y"]).map(|all| all.len()), Ok(1));
        assert_eq!(rows("a.csv", "x,z\n1,2\n", ["x", "y"]).map_err(|why| why.line), Err(1));
        assert_eq!(rows("a.csv", "x,y\n1,2\n1\n", ["x", "y"]).map_err(|why| why.line), Err(3));
    }
}
