//! What kind of quantity a number is: powers of length, mass, time, angle, fineness and money.

use std::fmt;

/// A currency by its ISO 4217 code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Currency([u8; 3]);

impl Currency {
    /// The currency of a code in capitals, when ISO 4217 lists it (table by the `iso_currency` crate).
    #[must_use]
    pub fn new(code: &str) -> Option<Self> {
        let bytes: [u8; 3] = code.as_bytes().try_into().ok()?;
        iso_currency::Currency::from_code(code).map(|_| Self(bytes))
    }

    /// Places behind the point of its minor unit, as ISO 4217 lists it; 2 where the list gives none.
    ///
    /// # Example
    /// ```
    /// use annulet::quantity::Currency;
    /// let places = |code| Currency::new(code).unwrap().places();
    /// assert_eq!((places("EUR"), places("JPY"), places("KWD")), (2, 0, 3));
    /// ```
    #[must_use]
    pub fn places(&self) -> u32 {
        iso_currency::Currency::from_code(self.code())
            .and_then(iso_currency::Currency::exponent)
            .map_or(2, u32::from)
    }

    /// Its code.
    #[must_use]
    pub fn code(&self) -> &str {
        std::str::from_utf8(&self.0).unwrap_or("")
    }
}

/// Powers of the base kinds; all zero for a plain number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub struct Dimension {
    /// Power of length (mm).
    pub length: i8,
    /// Power of mass (g).
    pub mass: i8,
    /// Power of time (s).
    pub time: i8,
    /// Power of angle (degree).
    pub angle: i8,
    /// Power of fineness (part per thousand).
    pub fineness: i8,
    /// Power of money.
    pub money: i8,
    /// Which money, when there is some.
    pub currency: Option<Currency>,
}

impl Dimension {
    /// A plain number.
    pub const NONE: Self = Self {
        length: 0,
        mass: 0,
        time: 0,
        angle: 0,
        fineness: 0,
        money: 0,
        currency: None,
    };
    /// Length, in mm.
    pub const LENGTH: Self = Self {
        length: 1,
        ..Self::NONE
    };
    /// Area, in mm2.
    pub const AREA: Self = Self {
        length: 2,
        ..Self::NONE
    };
    /// Volume, in mm3.
    pub const VOLUME: Self = Self {
        length: 3,
        ..Self::NONE
    };
    /// Mass, in g.
    pub const MASS: Self = Self {
        mass: 1,
        ..Self::NONE
    };
    /// Density, in g/mm3.
    pub const DENSITY: Self = Self {
        mass: 1,
        length: -3,
        ..Self::NONE
    };
    /// Time, in s.
    pub const TIME: Self = Self {
        time: 1,
        ..Self::NONE
    };
    /// Speed, in mm/s.
    pub const SPEED: Self = Self {
        length: 1,
        time: -1,
        ..Self::NONE
    };
    /// Angle, in degrees.
    pub const ANGLE: Self = Self {
        angle: 1,
        ..Self::NONE
    };
    /// Fineness, in parts per thousand by mass.
    pub const FINENESS: Self = Self {
        fineness: 1,
        ..Self::NONE
    };
    /// Force, in g mm/s2.
    pub const FORCE: Self = Self {
        mass: 1,
        length: 1,
        time: -2,
        ..Self::NONE
    };
    /// Stress, in g/(mm s2).
    pub const STRESS: Self = Self {
        mass: 1,
        length: -1,
        time: -2,
        ..Self::NONE
    };
    /// Torque, in g mm2/s2.
    pub const TORQUE: Self = Self {
        mass: 1,
        length: 2,
        time: -2,
        ..Self::NONE
    };
    /// Stiffness, in g/s2.
    pub const STIFFNESS: Self = Self {
        mass: 1,
        time: -2,
        ..Self::NONE
    };

    /// Money, of whatever currency.
    pub const MONEY: Self = Self {
        money: 1,
        ..Self::NONE
    };
    /// Money by mass, of whatever currency.
    pub const MONEY_BY_MASS: Self = Self {
        money: 1,
        mass: -1,
        ..Self::NONE
    };
    /// Money by time, of whatever currency.
    pub const MONEY_BY_TIME: Self = Self {
        money: 1,
        time: -1,
        ..Self::NONE
    };

    /// The same, of whatever currency.
    #[must_use]
    pub fn without_currency(self) -> Self {
        Self {
            currency: None,
            ..self
        }
    }

    /// The same in a currency, where there is money in it.
    #[must_use]
    pub fn in_currency(self, currency: Currency) -> Self {
        Self {
            currency: Some(currency).filter(|_| self.money != 0),
            ..self
        }
    }

    /// Money of a currency.
    #[must_use]
    pub fn of_money(currency: Currency) -> Self {
        Self {
            money: 1,
            currency: Some(currency),
            ..Self::NONE
        }
    }

    /// The dimension of a product; `None` when two currencies would mix, or powers run away.
    #[must_use]
    pub fn times(self, other: Self) -> Option<Self> {
        self.combined(other, 1)
    }

    /// The dimension of a quotient; `None` when two currencies would mix, or powers run away.
    #[must_use]
    pub fn over(self, other: Self) -> Option<Self> {
        self.combined(other, -1)
    }

    fn combined(self, other: Self, sign: i8) -> Option<Self> {
        let currency = match (self.currency, other.currency) {
            (Some(left), Some(right)) if left != right => return None,
            (left, right) => left.or(right),
        };
        let sum = |left: i8, right: i8| {
            left.checked_add(right.checked_mul(sign)?)
                .filter(|power| power.abs() <= 9)
        };
        let money = sum(self.money, other.money)?;
        Some(Self {
            length: sum(self.length, other.length)?,
            mass: sum(self.mass, other.mass)?,
            time: sum(self.time, other.time)?,
            angle: sum(self.angle, other.angle)?,
            fineness: sum(self.fineness, other.fineness)?,
            money,
            currency: currency.filter(|_| money != 0),
        })
    }

    /// The dimension of a square root; `None` when a power is odd.
    #[must_use]
    pub fn root(self) -> Option<Self> {
        let half = |power: i8| (power % 2 == 0).then_some(power / 2);
        Some(Self {
            length: half(self.length)?,
            mass: half(self.mass)?,
            time: half(self.time)?,
            angle: half(self.angle)?,
            fineness: half(self.fineness)?,
            money: half(self.money)?,
            currency: self.currency,
        })
    }

    /// The dimension in words, with its article: `a length`, `a mass`.
    #[must_use]
    pub fn named(self) -> String {
        let plain = Self {
            currency: None,
            ..self
        };
        let money = Self {
            money: 1,
            ..Self::NONE
        };
        let word = match plain {
            Self::NONE => "a plain number",
            Self::LENGTH => "a length",
            Self::AREA => "an area",
            Self::VOLUME => "a volume",
            Self::MASS => "a mass",
            Self::DENSITY => "a density",
            Self::TIME => "a time",
            Self::SPEED => "a speed",
            Self::ANGLE => "an angle",
            Self::FINENESS => "a fineness",
            Self::FORCE => "a force",
            Self::STRESS => "a stress",
            Self::TORQUE => "a torque",
            Self::STIFFNESS => "a stiffness",
            _ if plain == money => "money",
            _ if plain == (Self { mass: -1, ..money }) => "a price by weight",
            _ if plain == (Self { time: -1, ..money }) => "a rate of money by time",
            _ => return format!("a quantity in {self}"),
        };
        match self.currency {
            Some(currency) => format!("{word} in {}", currency.code()),
            None => word.to_owned(),
        }
    }
}

impl fmt::Display for Dimension {
    /// Base units with their powers: `g/mm3`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let money = self.currency.as_ref().map_or("money", Currency::code);
        let bases = [
            (money, self.money),
            ("g", self.mass),
            ("mm", self.length),
            ("deg", self.angle),
            ("\u{2030}", self.fineness),
            ("s", self.time),
        ];
        let power = |(base, power): (&str, i8)| {
            if power.abs() == 1 {
                base.to_owned()
            } else {
                format!("{base}{}", power.abs())
            }
        };
        let above: Vec<String> = bases
            .into_iter()
            .filter(|(_, power)| *power > 0)
            .map(power)
            .collect();
        let below: Vec<String> = bases
            .into_iter()
            .filter(|(_, power)| *power < 0)
            .map(power)
            .collect();
        let above = if above.is_empty() {
            "1".to_owned()
        } else {
            above.join(" ")
        };
        let below: String = below.iter().map(|base| format!("/{base}")).collect();
        write!(formatter, "{above}{below}")
    }
}
