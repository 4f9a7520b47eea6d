//! What questions find in the blocks beside the bands: prices, shop, stocks, alloys and cutters.

use crate::model::money::Setting;
use crate::model::{Alloy, FieldValue};
use crate::schema::{self, find_subject as find};

use super::question::Results;

impl Results<'_> {
    /// What `prices`, `shop` or a stock says under a full path, such as `prices.gold`; a stock's name alone serves.
    pub fn setting(&self, path: &str) -> Option<Setting<'_>> {
        let (block, _) = path.split_once('.')?;
        if self.outcome.recipe.is_band(block) {
            return None;
        }
        let said = &self.outcome.recipe.money.as_ref()?.said;
        said.setting(&self.setting_path(path))
    }

    /// The full path of a setting, which for a stock begins with that word.
    pub fn setting_path(&self, path: &str) -> String {
        match path.split_once('.') {
            Some(("prices" | "shop" | "stock", _)) | None => path.to_owned(),
            Some(_) => format!("stock.{path}"),
        }
    }

    /// An alloy and the path of a value that it has, such as `rose-585.density`.
    pub fn alloy<'a>(&self, path: &'a str) -> Option<(&Alloy, &'a str)> {
        let stripped = path.strip_prefix("alloy.");
        let (name, rest) = stripped.unwrap_or(path).split_once('.')?;
        let recipe = &self.outcome.recipe;
        if stripped.is_none() && (recipe.is_band(name) || !find(path).is_empty()) {
            return None;
        }
        let of_bands = recipe.bands.iter().flat_map(|band| {
            let parts = band.hollow.iter();
            let parts = parts.flat_map(|hollow| [&hollow.shell.alloy, &hollow.sleeve.alloy]);
            std::iter::once(&band.alloy).chain(parts)
        });
        let mut all = recipe.alloys.iter().chain(of_bands);
        let found = all.find(|alloy| alloy.name == name)?;
        found.value(rest).is_some().then_some((&**found, rest))
    }

    /// What a cutter states under a path such as `vee-90.angle`, and its full path.
    pub fn of_cutter(&self, path: &str) -> Option<(String, &FieldValue)> {
        let stripped = path.strip_prefix("cutter.");
        let (name, word) = stripped.unwrap_or(path).split_once('.')?;
        let bands = &self.outcome.recipe.bands;
        let known = |name: &str| self.outcome.recipe.is_band(name);
        if stripped.is_none() && (known(name) || !find(path).is_empty()) {
            return None;
        }
        let mut cutters = bands.iter().flat_map(|band| band.cutters());
        let cutter = cutters.find(|cutter| cutter.name == name)?;
        let field = schema::BlockId::Cutter.find(word)?;
        Some((
            format!("cutter.{name}.{word}"),
            cutter.values.get(field.id)?,
        ))
    }
}
