//! Who counts as one asker: an address as far as one household or one machine has it.

use std::net::{IpAddr, Ipv6Addr};

/// An IPv4 address as it is; of an IPv6 address the first 64 bits: one network has all addresses behind them (RFC 6177),
/// so one machine can ask from any number of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct AddressPrefix(IpAddr);

/// The bits of an IPv6 address that name a network.
const NETWORK: u128 = !0 << 64;

impl AddressPrefix {
    /// The prefix of an address; an IPv4 address in IPv6 clothes (`::ffff:192.0.2.1`) is the IPv4 address.
    pub fn of(address: IpAddr) -> Self {
        Self(match address.to_canonical() {
            IpAddr::V4(address) => IpAddr::V4(address),
            IpAddr::V6(address) => IpAddr::V6(Ipv6Addr::from_bits(address.to_bits() & NETWORK)),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(text: &str) -> AddressPrefix {
        AddressPrefix::of(text.parse().expect("an address"))
    }

    /// Addresses of the documentation ranges (RFC 5737, RFC 3849).
    #[test]
    fn one_network_is_one_asker_and_two_are_two() {
        assert_ne!(of("192.0.2.1"), of("192.0.2.2"));
        assert_eq!(of("::ffff:192.0.2.1"), of("192.0.2.1"));
        assert_eq!(of("2001:db8:0:1::1"), of("2001:db8:0:1:ffff:ffff:ffff:ffff"));
        assert_ne!(of("2001:db8:0:1::1"), of("2001:db8:0:2::1"));
    }
}
