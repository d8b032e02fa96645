//! Bytes as letters of an html file: seven bits in each.
//!
//! A letter of ASCII is one byte of the file and has room for seven bits, so that eight letters stand for seven
//! bytes. Base64 takes nine and a third for them and Z85 eight and three quarters, because they keep to letters
//! that print; a script's text need not. Three letters cannot stand there: html parsers replace a zero byte and
//! a carriage return, and `<` may end the script. Where one of them would come, it and the letter after it
//! become one letter of two bytes, from `PAIRS` on, so that nothing is lost by it; before the end, one from
//! `LONE` on.

/// The letters that cannot stand in a script.
const FORBIDDEN: [u8; 3] = [0, b'\r', b'<'];

/// Bits of a letter.
const BITS: u32 = 7;

/// Ā: the first of three times 128 letters, each a forbidden one and what follows it.
const PAIRS: u32 = 0x100;

/// ʀ: the first of three letters, each a forbidden one that is the last.
const LONE: u32 = PAIRS + 3 * (1 << BITS);

/// The letters of some bytes.
///
/// # Panics
/// Never: the letters up to the last of `LONE` are all assigned.
#[must_use]
pub fn spelled(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len() + bytes.len() / 6 + 2);
    let mut sevens = sevens(bytes);
    while let Some(seven) = sevens.next() {
        let letter = match (0..).zip(FORBIDDEN).find(|(_, forbidden)| *forbidden == seven) {
            None => u32::from(seven),
            Some((which, _)) => match sevens.next() {
                Some(next) => PAIRS + (which << BITS) + u32::from(next),
                None => LONE + which,
            },
        };
        text.push(char::from_u32(letter).expect("an assigned letter"));
    }
    text
}

/// Seven bits at a time, from the highest of the first byte on; zeros fill up the last.
fn sevens(bytes: &[u8]) -> impl Iterator<Item = u8> + '_ {
    let count = (bytes.len() * 8).div_ceil(BITS as usize);
    (0..count).map(move |index| {
        let at = index * BITS as usize;
        let two = [0, 1].map(|next| bytes.get(at / 8 + next).copied().unwrap_or(0));
        (u16::from_be_bytes(two) << (at % 8) >> 9) as u8
    })
}

/// The bytes that letters stand for; `None` where a letter is none of [`spelled`]'s.
#[must_use]
pub fn read(text: &str) -> Option<Vec<u8>> {
    let mut bytes = Bytes { done: Vec::with_capacity(text.len()), held: 0, bits: 0 };
    for letter in text.chars() {
        let letter = u32::from(letter);
        if letter < 1 << BITS {
            bytes.push(letter);
        } else {
            let pair = letter.checked_sub(PAIRS)?;
            let lone = letter.checked_sub(LONE);
            let which = lone.unwrap_or(pair >> BITS);
            bytes.push(u32::from(*FORBIDDEN.get(usize::try_from(which).ok()?)?));
            if lone.is_none() {
                bytes.push(pair & ((1 << BITS) - 1));
            }
        }
    }
    Some(bytes.done)
}

/// Bytes put together from sevens; bits that make no whole byte are those that filled up the last.
struct Bytes {
    done: Vec<u8>,
    held: u32,
    bits: u32,
}

impl Bytes {
    #[inline]
    fn push(&mut self, seven: u32) {
        self.held = self.held << BITS | seven;
        self.bits += BITS;
        if self.bits >= 8 {
            self.bits -= 8;
            let [.., byte] = (self.held >> self.bits).to_be_bytes();
            self.done.push(byte);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_are_read_as_the_bytes_they_were_spelled_from() {
        // Every byte before and after every other, in every place among seven.
        for begin in 0..7 {
            for step in 1..=255_u8 {
                let bytes: Vec<u8> =
                    (0..=255).chain(0..7).map(|place: u8| place.wrapping_mul(step)).collect();
                let bytes = &bytes[begin..];
                let text = spelled(bytes);
                assert_eq!(read(&text).as_deref(), Some(bytes));
                assert!(!text.contains(['\0', '\r', '<']));
                let most = (bytes.len() * 8).div_ceil(7) + 1;
                assert!(text.len() <= most, "a byte for seven bits, and one for a forbidden end");
            }
        }
    }

    #[test]
    fn every_end_is_read() {
        for last in 0..=255_u8 {
            for before in 0..9 {
                let mut bytes = vec![0x55; before];
                bytes.push(last);
                assert_eq!(read(&spelled(&bytes)), Some(bytes));
            }
        }
        assert_eq!(read(&spelled(&[])), Some(Vec::new()));
    }

    #[test]
    fn other_letters_are_refused() {
        for letter in ["\u{80}", "é", "ÿ", "\u{283}", "−", "🛞"] {
            assert_eq!(read(letter), None, "{letter}");
        }
        assert_eq!(spelled(&[0]), "\u{100}");
        assert_eq!(read("\u{27f}").map(|bytes| bytes.len()), Some(1));
    }
}
