//! What the core found about films and times in the air, in words.

use super::Words;
use crate::measure::{ClipFault, Device, FlightTime, FrameFault};
use crate::quantity::{Length, Unit};

impl Words {
    /// What measured a jump.
    pub fn device(&self, device: Device) -> String {
        match device {
            Device::Wall => self.clock_at_wall(),
            Device::Video => self.clock_device_video(),
            Device::TimingMat => self.clock_device_mat(),
            Device::ForcePlate => self.clock_device_plate(),
            Device::LightBarrier => self.clock_device_light(),
        }
    }

    /// A time in the air in seconds, to the millisecond: "0.512 s".
    pub fn flight_time(&self, time: FlightTime) -> String {
        let ms = (u64::from(time.micros) + 500) / 1_000;
        self.clock_seconds(&self.locale().decimal(i64::try_from(ms).unwrap_or(0), 3))
    }

    /// A place in a film in seconds, to the millisecond.
    pub fn film_time(&self, micros: u64) -> String {
        let ms = i64::try_from(micros.saturating_add(500) / 1_000).unwrap_or(i64::MAX);
        self.clock_seconds(&self.locale().decimal(ms, 3))
    }

    /// A height to the millimetre or eighth of an inch, with its unit.
    pub fn exact_length(&self, length: Length, unit: Unit) -> String {
        let number = self.exact_number(length, unit);
        match unit {
            Unit::Centimetre => self.in_centimetres(&number),
            Unit::Inch => self.in_inches(&number),
        }
    }

    /// Why a film cannot be used, and what to do.
    pub fn clip_fault(&self, fault: ClipFault) -> String {
        match fault {
            ClipFault::NotPlayable => self.clock_fault_not_playable(),
            ClipFault::NoPicture => self.clock_fault_no_picture(),
            ClipFault::TooLarge => self.clock_fault_too_large(),
            ClipFault::NoFrameTimes => self.clock_fault_no_times(),
            ClipFault::NoCamera => self.clock_fault_no_camera(),
            ClipFault::CameraDenied => self.clock_fault_denied(),
            ClipFault::CameraLost => self.clock_fault_lost(),
        }
    }

    /// Why two frames give no time in the air.
    pub fn frame_fault(&self, fault: FrameFault) -> String {
        match fault {
            FrameFault::WrongOrder => self.clock_fault_order(),
            FrameFault::TooFewFrames { per_s } => self.clock_fault_few(&self.whole(per_s)),
            FrameFault::UnevenSlowMotion => self.clock_fault_uneven(),
            FrameFault::CaptureRate { film_per_s } => {
                self.clock_fault_rate(&self.whole(film_per_s))
            }
            FrameFault::TooLong => self.clock_fault_long(),
            FrameFault::TooShort => self.clock_fault_short(),
        }
    }
}
