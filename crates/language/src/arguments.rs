//! What is filled in to a message.

use crate::Text;
use crate::when;
use jiff::civil::Date;

/// Something that is filled in: words stay as they are, a count chooses the plural, a text is said in the
/// language of the sentence around it.
#[derive(Clone, Debug, PartialEq)]
pub enum Argument {
    /// Words that no catalogue has: names, addresses, what somebody wrote.
    Words(String),
    /// A whole number.
    Count(i64),
    /// Another text.
    Text(Text),
}

impl From<&str> for Argument {
    fn from(words: &str) -> Argument {
        Argument::Words(words.to_owned())
    }
}

impl From<String> for Argument {
    fn from(words: String) -> Argument {
        Argument::Words(words)
    }
}

impl From<Text> for Argument {
    fn from(text: Text) -> Argument {
        Argument::Text(text)
    }
}

/// A date is said in full: "25 November 2026".
impl From<Date> for Argument {
    fn from(date: Date) -> Argument {
        Argument::Text(when::date(date))
    }
}

/// Templates lend what they fill in, in a loop or an `if let` twice.
macro_rules! lent {
    ($($kind:ty),*) => {$(
        impl From<&$kind> for Argument {
            fn from(value: &$kind) -> Argument {
                Argument::from(value.clone())
            }
        }
        impl From<&&$kind> for Argument {
            fn from(value: &&$kind) -> Argument {
                Argument::from((*value).clone())
            }
        }
    )*};
}

lent!(String, Text, Date);

impl From<&&str> for Argument {
    fn from(words: &&str) -> Argument {
        Argument::from(*words)
    }
}

macro_rules! counts {
    ($($whole:ty),*) => {$(
        impl From<$whole> for Argument {
            fn from(count: $whole) -> Argument {
                // What no i64 holds, nobody counts.
                Argument::Count(i64::try_from(count).unwrap_or(i64::MAX))
            }
        }
        lent!($whole);
    )*};
}

counts!(u8, u16, u32, u64, usize, i8, i16, i32, i64);
