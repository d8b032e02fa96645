//! Reading and writing setups as JSON, with errors that name the field.

use std::fmt;

use geometry_core::setup::{Document, FieldError, VERSION};
use serde::{Deserialize, de::DeserializeOwned};

use crate::Request;

/// Why a text is not a setup or a request.
#[derive(Debug, Clone, PartialEq)]
pub enum ReadError {
    /// Not JSON, or a field is missing, misspelt or of the wrong kind.
    Text {
        /// Path of the field, empty for the text as a whole.
        field: String,
        /// What is wrong there, with line and column.
        message: String,
    },
    /// A field has a value that is not allowed.
    Field(FieldError),
}

impl ReadError {
    /// A stable word for programs.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Text { .. } => "document",
            Self::Field(FieldError::Version(_)) => "version",
            Self::Field(_) => "field",
        }
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Text { field, message } if field.is_empty() || field == "." => write!(f, "{message}"),
            Self::Text { field, message } => write!(f, "{field}: {message}"),
            Self::Field(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for ReadError {}

impl From<FieldError> for ReadError {
    fn from(error: FieldError) -> Self {
        Self::Field(error)
    }
}

/// Only the version, whatever else stands there: a document of a newer version must be
/// told from a broken one before its fields are looked at.
#[derive(Deserialize)]
struct JustVersion {
    cornerwise: Option<serde_json::Number>,
}

#[derive(Deserialize)]
struct JustSetup {
    setup: Option<JustVersion>,
}

/// Reads a setup document and checks every field by itself.
///
/// # Errors
/// [`ReadError`] naming the field, the value and what is allowed.
pub fn read_document(text: &str) -> Result<Document, ReadError> {
    if let Ok(JustVersion { cornerwise: Some(version) }) = serde_json::from_str(text) {
        check_version(&version)?;
    }
    let document: Document = parse(text)?;
    document.check()?;
    Ok(document)
}

/// Reads a request; its setup as [`read_document`] does, with the field's path in it.
pub(crate) fn read_request(text: &str) -> Result<Request, ReadError> {
    if let Ok(JustSetup { setup: Some(JustVersion { cornerwise: Some(version) }) }) =
        serde_json::from_str(text)
    {
        check_version(&version)?;
    }
    let request: Request = parse(text)?;
    request.setup.check()?;
    Ok(request)
}

/// Writes a setup as a person would read it.
#[must_use]
pub fn write_document(document: &Document) -> String {
    // Only a map with keys that are no text could fail here; there is none.
    serde_json::to_string_pretty(document).unwrap_or_default()
}

fn check_version(version: &serde_json::Number) -> Result<(), ReadError> {
    match version.as_u64() {
        Some(found) if found == u64::from(VERSION) => Ok(()),
        Some(found) => Err(FieldError::Version(u32::try_from(found).unwrap_or(u32::MAX)).into()),
        None => Err(ReadError::Text {
            field: "cornerwise".into(),
            message: format!("must be {VERSION}, the version of the format; it is {version}"),
        }),
    }
}

fn parse<T: DeserializeOwned>(text: &str) -> Result<T, ReadError> {
    let mut reader = serde_json::Deserializer::from_str(text);
    let value = serde_path_to_error::deserialize(&mut reader).map_err(|error| {
        // A path that breaks off in the middle ends in a question mark.
        let path = error.path().to_string();
        let field = path.trim_end_matches('?').trim_end_matches('.').to_string();
        let message = error.inner().to_string().replace("expected f64", "a number is needed");
        ReadError::Text { field, message }
    })?;
    reader.end().map_err(|error| ReadError::Text { field: String::new(), message: error.to_string() })?;
    Ok(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sentence(text: &str) -> String {
        read_document(text).expect_err("not a setup").to_string()
    }

    #[test]
    fn errors_name_the_field_in_words() {
        assert_eq!(
            sentence(r#"{"cornerwise": 1, "front": {"wheel": {"centre": [0, "abc", 3]}}}"#),
            "front.wheel.centre[1]: invalid type: string \"abc\", a number is needed at line 1 column 57"
        );
        assert_eq!(
            sentence(r#"{"cornerwise": 1, "vehicle": {"mas": 3}}"#).split(", expected one of").next(),
            Some("vehicle.mas: unknown field `mas`")
        );
        assert_eq!(
            sentence(r#"{"cornerwise": 1, "front": {"#),
            "front: EOF while parsing an object at line 1 column 28"
        );
    }

    #[test]
    fn a_newer_version_is_told_before_its_fields_are_looked_at() {
        let text = r#"{"cornerwise": 7, "fields": "of a later day"}"#;
        assert!(sentence(text).starts_with("cornerwise is 7: this setup was written by a newer"));
    }

    #[test]
    fn what_is_written_is_read_back() {
        let document = geometry_core::setup::example();
        assert_eq!(read_document(&write_document(&document)), Ok(document));
    }
}
