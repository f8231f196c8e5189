//! Puts changed values into a `job.toml` and leaves everything else as the hand that wrote it left it:
//! comments, order, blank lines, number spelling, and keys this version does not know.

use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, TableLike, Value};

/// Known keys in their order, each with its value or without.
pub(crate) struct Layout(pub Vec<(&'static str, Field)>);

/// What stands under a key.
pub(crate) enum Field {
    /// A value; `None` where the key is not to be there.
    Value(Option<Value>),
    /// What is assumed where the key is not there: changed where it stands, never added.
    Assumed(Value),
    /// A table.
    Table(Option<Layout>),
    /// Entries, each under `[[key]]`; none where the key is not to be there.
    Tables(Vec<Layout>),
}

/// Makes the document say what the layout says.
pub(crate) fn merge(document: &mut DocumentMut, layout: Layout) {
    merge_table(document.as_table_mut(), layout);
}

fn merge_table(table: &mut dyn TableLike, layout: Layout) {
    for (key, field) in layout.0 {
        match field {
            Field::Value(None) | Field::Table(None) => {
                table.remove(key);
            }
            Field::Tables(entries) if entries.is_empty() => {
                table.remove(key);
            }
            Field::Value(Some(value)) => set_value(table, key, value),
            Field::Assumed(value) if table.contains_key(key) => set_value(table, key, value),
            Field::Assumed(_) => {}
            Field::Table(Some(inner)) => {
                if let Some(there) = table.get_mut(key).and_then(Item::as_table_like_mut) {
                    merge_table(there, inner);
                } else {
                    table.insert(key, Item::Table(new_table(inner)));
                }
            }
            Field::Tables(entries) => set_entries(table, key, entries),
        }
    }
}

fn new_table(layout: Layout) -> Table {
    let mut table = Table::new();
    merge_table(&mut table, layout);
    table
}

fn set_value(table: &mut dyn TableLike, key: &str, mut value: Value) {
    match table.get_mut(key).and_then(Item::as_value_mut) {
        Some(there) if same(there, &value) => {}
        Some(there) => {
            // A comment behind the value belongs to the line, not to the value.
            *value.decor_mut() = there.decor().clone();
            *there = value;
        }
        None => {
            table.insert(key, Item::Value(value));
        }
    }
}

/// Whether two values say the same, however they are spelled (`80`, `80.0`; a date with or without quotes).
fn same(one: &Value, other: &Value) -> bool {
    let number = |value: &Value| value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64));
    match (one, other) {
        (Value::Array(one), Value::Array(other)) => {
            one.len() == other.len() && one.iter().zip(other.iter()).all(|(one, other)| same(one, other))
        }
        (Value::Boolean(one), Value::Boolean(other)) => one.value() == other.value(),
        (Value::String(one), Value::String(other)) => one.value() == other.value(),
        (Value::Datetime(one), Value::String(other)) => same_moment(&one.value().to_string(), other.value()),
        _ => number(one).is_some_and(|one| number(other) == Some(one)),
    }
}

fn same_moment(one: &str, other: &str) -> bool {
    let read = |text: &str| text.parse::<crate::job::When>().ok();
    read(one).is_some_and(|one| read(other) == Some(one))
}

/// An entry being rewritten: one under `[[key]]`, or one of `key = [{ … }]`.
trait Entry: TableLike + Default + Clone {}
impl Entry for Table {}
impl Entry for InlineTable {}

fn set_entries(table: &mut dyn TableLike, key: &str, entries: Vec<Layout>) {
    match table.get_mut(key) {
        Some(Item::Value(Value::Array(there))) => {
            let old = there.iter().filter_map(Value::as_inline_table).cloned().collect();
            let new = rewritten(old, entries);
            let mut list = Array::new();
            for entry in new {
                list.push_formatted(Value::InlineTable(entry));
            }
            list.set_trailing(there.trailing().clone());
            list.set_trailing_comma(there.trailing_comma());
            *list.decor_mut() = there.decor().clone();
            *there = list;
        }
        Some(Item::ArrayOfTables(there)) => {
            let old: Vec<Table> = there.iter().cloned().collect();
            let mut new = rewritten(old, entries);
            // The place in the text is kept only while it agrees with the order of the entries.
            if !new.iter().filter_map(Table::position).is_sorted() {
                new.iter_mut().for_each(|entry| entry.set_position(None));
            }
            there.clear();
            new.into_iter().for_each(|entry| there.push(entry));
        }
        _ => {
            let mut list = ArrayOfTables::new();
            rewritten(Vec::new(), entries).into_iter().for_each(|entry| list.push(entry));
            table.insert(key, Item::ArrayOfTables(list));
        }
    }
}

/// The entries as they shall be, each grown from the old one that is about the same thing.
fn rewritten<T: Entry>(old: Vec<T>, entries: Vec<Layout>) -> Vec<T> {
    let mut old: Vec<Option<T>> = old.into_iter().map(Some).collect();
    entries
        .into_iter()
        .map(|layout| {
            let mut kept = old
                .iter_mut()
                .find(|there| there.as_ref().is_some_and(|there| is_about_the_same(there, &layout)))
                .and_then(Option::take)
                .unwrap_or_default();
            merge_table(&mut kept, layout);
            kept
        })
        .collect()
}

/// A clip is known by its file; a reading, a skipped step or an amendment by what and when.
const MARKS: [&str; 7] = ["file", "cylinder", "step", "opening", "of", "key", "when"];

fn is_about_the_same(there: &dyn TableLike, layout: &Layout) -> bool {
    let marks = layout.0.iter().filter(|(key, _)| MARKS.contains(key));
    let first_decides = layout.0.iter().any(|(key, _)| *key == "file");
    marks.filter(|(key, _)| !first_decides || *key == "file").all(|(key, field)| {
        let found = there.get(key).and_then(Item::as_value);
        match (found, field) {
            (None, Field::Value(None)) => true,
            (Some(found), Field::Value(Some(value))) => same(found, value),
            _ => false,
        }
    })
}
