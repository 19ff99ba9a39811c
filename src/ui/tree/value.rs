use std::borrow::Cow;

/// What an attribute or a property is at one moment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Plain {
    /// Not there.
    Absent,
    /// There without a value, or not there; as a property, true or false.
    Flag(bool),
    /// A text.
    Text(Cow<'static, str>),
}

/// What an attribute or a property is, now or from signals.
pub enum Value {
    /// Always the same.
    Fixed(Plain),
    /// Follows the signals that it reads.
    Live(Box<dyn Fn() -> Plain>),
}

/// Whatever can stand behind `name=`.
pub trait IntoValue {
    /// As a value.
    fn into_value(self) -> Value;
}

/// What a function behind `name=` may return.
pub trait IntoPlain {
    /// As it is now.
    fn into_plain(self) -> Plain;
}

impl IntoPlain for &'static str {
    fn into_plain(self) -> Plain {
        Plain::Text(Cow::Borrowed(self))
    }
}

impl IntoPlain for String {
    fn into_plain(self) -> Plain {
        Plain::Text(Cow::Owned(self))
    }
}

impl IntoPlain for bool {
    fn into_plain(self) -> Plain {
        Plain::Flag(self)
    }
}

impl<T: IntoPlain> IntoPlain for Option<T> {
    fn into_plain(self) -> Plain {
        self.map_or(Plain::Absent, IntoPlain::into_plain)
    }
}

impl IntoValue for &'static str {
    fn into_value(self) -> Value {
        Value::Fixed(self.into_plain())
    }
}

impl IntoValue for String {
    fn into_value(self) -> Value {
        Value::Fixed(self.into_plain())
    }
}

impl IntoValue for bool {
    fn into_value(self) -> Value {
        Value::Fixed(self.into_plain())
    }
}

impl<T: IntoPlain> IntoValue for Option<T> {
    fn into_value(self) -> Value {
        Value::Fixed(self.into_plain())
    }
}

impl<T: IntoPlain, F: Fn() -> T + 'static> IntoValue for F {
    fn into_value(self) -> Value {
        Value::Live(Box::new(move || self().into_plain()))
    }
}
