//! What was measured on parts as they came off the machine.

use crate::schema::FieldId;

/// Measured diameters and widths, mm, under the names of the bench figures; metal for finishing included.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Measured {
    /// Bore of the shell's feet.
    pub shell_bore: Option<f64>,
    /// Bore of the shell's lips.
    pub shell_lip_bore: Option<f64>,
    /// Roof of the shell's channel at mid width.
    pub shell_channel: Option<f64>,
    /// Width of the shell's channel between the feet.
    pub shell_channel_width: Option<f64>,
    /// Largest outside of the shell.
    pub shell_outside: Option<f64>,
    /// Width of the shell.
    pub shell_width: Option<f64>,
    /// Bore of the sleeve.
    pub sleeve_bore: Option<f64>,
    /// Outside of the sleeve beside the ridges.
    pub sleeve_floor: Option<f64>,
    /// Outside of the ridges.
    pub sleeve_ridge_top: Option<f64>,
    /// From the sleeve's side face to the outer face of the outermost ridge.
    pub sleeve_ridge_from_face: Option<f64>,
    /// Width of the sleeve.
    pub sleeve_width: Option<f64>,
    /// Bore of the sleeve at its side faces.
    pub sleeve_edge_bore: Option<f64>,
    /// Bore of a solid blank.
    pub blank_bore: Option<f64>,
    /// Largest outside of a solid blank.
    pub blank_outside: Option<f64>,
    /// Thickness of a solid blank.
    pub blank_thickness: Option<f64>,
    /// Width of a solid blank.
    pub blank_width: Option<f64>,
}

impl Measured {
    /// The figures, each as `read` gives it from its field.
    #[must_use]
    pub fn read(read: impl Fn(FieldId) -> Option<f64>) -> Self {
        let mut measured = Self::default();
        for (field, place) in measured.figures() {
            *place = read(field);
        }
        measured
    }

    /// Every figure, with its field.
    pub fn figures(&mut self) -> [(FieldId, &mut Option<f64>); 16] {
        [
            (FieldId::MadeShellBore, &mut self.shell_bore),
            (FieldId::MadeShellLipBore, &mut self.shell_lip_bore),
            (FieldId::MadeShellChannel, &mut self.shell_channel),
            (
                FieldId::MadeShellChannelWidth,
                &mut self.shell_channel_width,
            ),
            (FieldId::MadeShellOutside, &mut self.shell_outside),
            (FieldId::MadeShellWidth, &mut self.shell_width),
            (FieldId::MadeSleeveBore, &mut self.sleeve_bore),
            (FieldId::MadeSleeveFloor, &mut self.sleeve_floor),
            (FieldId::MadeSleeveRidgeTop, &mut self.sleeve_ridge_top),
            (
                FieldId::MadeSleeveRidgeFromFace,
                &mut self.sleeve_ridge_from_face,
            ),
            (FieldId::MadeSleeveWidth, &mut self.sleeve_width),
            (FieldId::MadeSleeveEdgeBore, &mut self.sleeve_edge_bore),
            (FieldId::MadeBlankBore, &mut self.blank_bore),
            (FieldId::MadeBlankOutside, &mut self.blank_outside),
            (FieldId::MadeBlankThickness, &mut self.blank_thickness),
            (FieldId::MadeBlankWidth, &mut self.blank_width),
        ]
    }

    /// The figure of a field.
    #[must_use]
    pub fn of(mut self, field: FieldId) -> Option<f64> {
        let figures = self.figures();
        let found = figures.into_iter().find(|(known, _)| *known == field);
        found.and_then(|(_, value)| *value)
    }

    /// The fields that are measured, in their order.
    pub fn stated(mut self) -> impl Iterator<Item = FieldId> {
        let figures = self.figures().map(|(field, value)| value.map(|_| field));
        figures.into_iter().flatten()
    }

    /// The same with one figure changed.
    #[must_use]
    pub fn with(mut self, field: FieldId, value: f64) -> Self {
        for (known, place) in self.figures() {
            if known == field {
                *place = Some(value);
            }
        }
        self
    }

    /// The same with one figure not measured.
    #[must_use]
    pub fn without(mut self, field: FieldId) -> Self {
        for (known, place) in self.figures() {
            if known == field {
                *place = None;
            }
        }
        self
    }

    /// Whether nothing of two parts is measured.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        let blank = Self {
            blank_bore: self.blank_bore,
            blank_outside: self.blank_outside,
            blank_thickness: self.blank_thickness,
            blank_width: self.blank_width,
            ..Self::default()
        };
        *self == blank
    }

    /// Whether anything of a solid blank is measured.
    #[must_use]
    pub fn has_blank(&self) -> bool {
        let figures = [
            self.blank_bore,
            self.blank_outside,
            self.blank_thickness,
            self.blank_width,
        ];
        figures.iter().any(Option::is_some)
    }

    /// Whether anything of the sleeve is measured, so that there is one.
    #[must_use]
    pub fn has_sleeve(&self) -> bool {
        let figures = [
            self.sleeve_bore,
            self.sleeve_floor,
            self.sleeve_ridge_top,
            self.sleeve_ridge_from_face,
            self.sleeve_width,
            self.sleeve_edge_bore,
        ];
        figures.iter().any(Option::is_some)
    }
}
