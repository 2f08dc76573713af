//! Records of a data file, with the place that an error message needs.

use materials::DataError;

/// One record with the place that an error message needs.
pub(crate) struct Row {
    file: &'static str,
    line: usize,
    record: csv::StringRecord,
}

impl Row {
    pub(crate) fn wrong(&self, what: String) -> DataError {
        DataError { file: self.file, line: self.line, what }
    }
    pub(crate) fn at(&self, column: usize) -> Result<&str, DataError> {
        self.record.get(column).map(str::trim).ok_or_else(|| self.wrong(format!("column {} is missing", column + 1)))
    }
    pub(crate) fn filled(&self, column: usize) -> Result<&str, DataError> {
        match self.at(column)? {
            "" => Err(self.wrong(format!("column {} is empty", column + 1))),
            text => Ok(text),
        }
    }
    pub(crate) fn number(&self, column: usize) -> Result<f64, DataError> {
        let text = self.filled(column)?;
        text.parse().map_err(|_| self.wrong(format!("`{text}` is no number")))
    }
}

/// Every record of a file, read by `read`; an error names file and line.
pub(crate) fn rows<T>(file: &'static str, text: &str, read: fn(&Row) -> Result<T, DataError>) -> Result<Vec<T>, DataError> {
    let records = csv::Reader::from_reader(text.as_bytes()).into_records();
    let record = |(index, record): (usize, Result<csv::StringRecord, csv::Error>)| {
        let line = index + 2;
        let record = record.map_err(|e| DataError { file, line, what: e.to_string() })?;
        read(&Row { file, line, record })
    };
    records.enumerate().map(record).collect()
}
