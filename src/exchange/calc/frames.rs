//! `centration`, `blank`, `near_centration`, `drop_for_tilt`.

use serde::Serialize;

use super::error::CalcError;
use super::keys;
use super::reply::Number;
use super::request::Fields;
use crate::trade::optics::blank::{self, exact_blank_mm, minimum_blank_mm};
use crate::trade::optics::centration::{
    NearTask, ROTATION_MM, decentration, drop_for_tilt_mm, frame_centre_distance_mm, near_inset_mm,
};
use crate::trade::optics::outline::Outline;

/// A frame's boxed sizes; one object serves every calculation that needs some of them.
pub(super) struct FrameFields {
    pub a_mm: f64,
    pub b_mm: f64,
}

impl FrameFields {
    /// Reads the frame's box and refuses keys that no frame has.
    pub(crate) fn of(frame: &Fields<'_, '_>) -> Result<Self, CalcError> {
        frame.only(&["a_mm", "b_mm", "dbl_mm", "ed_mm"])?;
        frame.optional(&keys::DBL_MM)?;
        frame.optional(&keys::ED_MM)?;
        Ok(Self {
            a_mm: frame.number(&keys::A_MM)?,
            b_mm: frame.number(&keys::B_MM)?,
        })
    }
}

#[derive(Serialize)]
pub(super) struct CentrationReply {
    #[serde(skip_serializing_if = "Option::is_none")]
    right: Option<EyeReply>,
    #[serde(skip_serializing_if = "Option::is_none")]
    left: Option<EyeReply>,
    frame_centre_distance_mm: Number,
}

#[derive(Serialize)]
struct EyeReply {
    in_mm: Number,
    #[serde(skip_serializing_if = "Option::is_none")]
    up_mm: Option<Number>,
}

pub(super) fn centration(f: &Fields<'_, '_>) -> Result<CentrationReply, CalcError> {
    f.only(&["frame", "right", "left"])?;
    let frame = f.object("frame")?;
    let boxed = FrameFields::of(&frame)?;
    let dbl_mm = frame.number(&keys::DBL_MM)?;
    if !f.has("right") && !f.has("left") {
        return Err(f.missing("right"));
    }
    let eye = |key: &str| -> Result<Option<EyeReply>, CalcError> {
        if !f.has(key) {
            return Ok(None);
        }
        let eye = f.object(key)?;
        eye.only(&["cd_mm", "height_mm"])?;
        let height_mm = eye.optional(&keys::HEIGHT_MM)?;
        let at = decentration(
            boxed.a_mm,
            boxed.b_mm,
            dbl_mm,
            eye.number(&keys::CD_MM)?,
            height_mm,
        );
        Ok(Some(EyeReply {
            in_mm: Number(at.in_mm),
            up_mm: height_mm.map(|_| Number(at.up_mm)),
        }))
    };
    Ok(CentrationReply {
        right: eye("right")?,
        left: eye("left")?,
        frame_centre_distance_mm: Number(frame_centre_distance_mm(boxed.a_mm, dbl_mm)),
    })
}

#[derive(Serialize)]
pub(super) struct BlankReply {
    minimum_mm: Number,
    exact_mm: Number,
}

pub(super) fn blank(f: &Fields<'_, '_>) -> Result<BlankReply, CalcError> {
    f.only(&["frame", "in_mm", "up_mm", "allowance_mm"])?;
    let frame = f.object("frame")?;
    let boxed = FrameFields::of(&frame)?;
    let ed_mm = frame.number(&keys::ED_MM)?;
    let allowance_mm = f.number_or(&keys::ALLOWANCE_MM, blank::ALLOWANCE_MM)?;
    let centre = f.place()?;
    let outline = Outline::from_box(boxed.a_mm, boxed.b_mm, ed_mm)?;
    Ok(BlankReply {
        minimum_mm: Number(minimum_blank_mm(ed_mm, centre, allowance_mm)),
        exact_mm: Number(exact_blank_mm(&outline, centre, allowance_mm)?),
    })
}

#[derive(Serialize)]
pub(super) struct NearReply {
    inset_mm: Number,
    near_cd_mm: Number,
}

pub(super) fn near_centration(f: &Fields<'_, '_>) -> Result<NearReply, CalcError> {
    f.only(&[
        "cd_mm",
        "working_mm",
        "vertex_mm",
        "rotation_mm",
        "power_d",
        "centred",
    ])?;
    let is_centred_near = match f.optional_text("centred")? {
        None | Some("distance") => false,
        Some("near") => true,
        Some(_) => return Err(f.refuse("centred", "is neither \"distance\" nor \"near\"")),
    };
    let cd_mm = f.number(&keys::CD_MM)?;
    let task = NearTask {
        working_mm: f.number(&keys::WORKING_MM)?,
        vertex_mm: f.number(&keys::VERTEX_MM)?,
        rotation_mm: f.number_or(&keys::ROTATION_MM, ROTATION_MM)?,
        power_d: f.number_or(&keys::POWER_D, 0.0)?,
    };
    let task = if is_centred_near {
        task.centred_near()
    } else {
        task
    };
    let inset = near_inset_mm(cd_mm, task)?;
    Ok(NearReply {
        inset_mm: Number(inset),
        near_cd_mm: Number(cd_mm - inset),
    })
}

#[derive(Serialize)]
pub(super) struct DropReply {
    drop_mm: Number,
}

pub(super) fn drop_for_tilt(f: &Fields<'_, '_>) -> Result<DropReply, CalcError> {
    f.only(&["pantoscopic_deg", "vertex_mm", "rotation_mm"])?;
    Ok(DropReply {
        drop_mm: Number(drop_for_tilt_mm(
            f.number(&keys::PANTOSCOPIC_DEG)?,
            f.number(&keys::VERTEX_MM)?,
            f.number_or(&keys::ROTATION_MM, ROTATION_MM)?,
        )?),
    })
}
