//! The field and variant names of a file format, read off the types themselves: a deserializer that answers every type
//! with one of its fields or variants after the other, and writes down what it was told there are.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::fmt;

use serde::de::{
    self, DeserializeSeed, Deserializer, EnumAccess, IntoDeserializer, MapAccess, SeqAccess, VariantAccess,
    Visitor,
};

/// Names by type: `Action` with its variants, `Action::AddBox` with its fields.
pub(crate) type Names = BTreeMap<String, Vec<String>>;

/// What is learned on the way down one path.
#[derive(Default)]
struct Learned {
    names: RefCell<Names>,
    /// How many ways go on from the end of the path.
    ways: RefCell<usize>,
}

/// Every name of a type and of the types in it.
pub(crate) fn names_of<T: de::DeserializeOwned>() -> Names {
    let learned = Learned::default();
    let mut paths: Vec<Vec<usize>> = vec![Vec::new()];
    while let Some(path) = paths.pop() {
        *learned.ways.borrow_mut() = 0;
        // What is asked for is never whole, so it ends with an error; what was learned counts.
        let _ = T::deserialize(Probe { path: &path, learned: &learned });
        for way in 0..*learned.ways.borrow() {
            paths.push([path.as_slice(), &[way]].concat());
        }
    }
    learned.names.into_inner()
}

#[derive(Clone, Copy)]
struct Probe<'a> {
    path: &'a [usize],
    learned: &'a Learned,
}

#[derive(Debug)]
struct End;

impl fmt::Display for End {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the end of a path")
    }
}
impl std::error::Error for End {}
impl de::Error for End {
    fn custom<T: fmt::Display>(_: T) -> Self {
        Self
    }
}

impl Probe<'_> {
    /// Writes the names down; which of them the path takes, and the probe behind it. At the path's end, how many there are.
    fn choose(self, of: &str, names: &'static [&'static str]) -> Result<(&'static str, Self), End> {
        let owned = names.iter().map(|n| (*n).to_owned()).collect();
        self.learned.names.borrow_mut().insert(of.to_owned(), owned);
        let Some((at, rest)) = self.path.split_first() else {
            *self.learned.ways.borrow_mut() = names.len();
            return Err(End);
        };
        Ok((names.get(*at).ok_or(End)?, Self { path: rest, ..self }))
    }
}

macro_rules! leaves {
    ($($method:ident)+) => { $(
        fn $method<V: Visitor<'de>>(self, _: V) -> Result<V::Value, End> { Err(End) }
    )+ };
}

impl<'de> Deserializer<'de> for Probe<'_> {
    type Error = End;

    leaves!(
        deserialize_any deserialize_bool deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64 deserialize_u8
        deserialize_u16 deserialize_u32 deserialize_u64 deserialize_f32 deserialize_f64 deserialize_char
        deserialize_str deserialize_string deserialize_bytes deserialize_byte_buf deserialize_unit
        deserialize_identifier
    );

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, End> {
        visitor.visit_unit()
    }
    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, End> {
        visitor.visit_some(self)
    }
    fn deserialize_unit_struct<V: Visitor<'de>>(self, _: &'static str, _: V) -> Result<V::Value, End> {
        Err(End)
    }
    fn deserialize_newtype_struct<V: Visitor<'de>>(self, _: &'static str, v: V) -> Result<V::Value, End> {
        v.visit_newtype_struct(self)
    }
    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, End> {
        visitor.visit_seq(One { value: Some(self), key: "" })
    }
    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, End> {
        self.deserialize_seq(visitor)
    }
    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: usize,
        v: V,
    ) -> Result<V::Value, End> {
        self.deserialize_seq(v)
    }
    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, End> {
        visitor.visit_map(One { value: Some(self), key: "" })
    }
    fn deserialize_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, End> {
        let (key, value) = self.choose(name, fields)?;
        visitor.visit_map(One { value: Some(value), key })
    }
    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, End> {
        let (variant, probe) = self.choose(name, variants)?;
        visitor.visit_enum(Variant { of: name, name: variant, probe })
    }
}

/// A list, map or struct of one.
struct One<'a> {
    value: Option<Probe<'a>>,
    key: &'static str,
}

impl<'de> SeqAccess<'de> for One<'_> {
    type Error = End;
    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, End> {
        self.value.take().map(|probe| seed.deserialize(probe)).transpose()
    }
}

impl<'de> MapAccess<'de> for One<'_> {
    type Error = End;
    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, End> {
        match self.value {
            Some(_) => seed.deserialize(self.key.into_deserializer()).map(Some),
            None => Ok(None),
        }
    }
    fn next_value_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<T::Value, End> {
        seed.deserialize(self.value.take().ok_or(End)?)
    }
}

struct Variant<'a> {
    of: &'static str,
    name: &'static str,
    probe: Probe<'a>,
}

impl<'de> EnumAccess<'de> for Variant<'_> {
    type Error = End;
    type Variant = Self;
    fn variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<(T::Value, Self), End> {
        Ok((seed.deserialize(self.name.into_deserializer())?, self))
    }
}

impl<'de> VariantAccess<'de> for Variant<'_> {
    type Error = End;
    fn unit_variant(self) -> Result<(), End> {
        Ok(())
    }
    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, End> {
        seed.deserialize(self.probe)
    }
    fn tuple_variant<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, End> {
        self.probe.deserialize_seq(visitor)
    }
    fn struct_variant<V: Visitor<'de>>(self, fields: &'static [&'static str], v: V) -> Result<V::Value, End> {
        let (key, value) = self.probe.choose(&format!("{}::{}", self.of, self.name), fields)?;
        v.visit_map(One { value: Some(value), key })
    }
}
