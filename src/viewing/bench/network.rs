//! The addresses of this computer in its home network.

use std::net::{Ipv4Addr, SocketAddr, UdpSocket};

/// Addresses that lie in home networks of the common ranges, and beyond them; the last is for documents alone.
const BEYOND: [Ipv4Addr; 6] = [
    Ipv4Addr::new(192, 0, 2, 1),
    Ipv4Addr::new(192, 168, 0, 1),
    Ipv4Addr::new(192, 168, 1, 1),
    Ipv4Addr::new(192, 168, 178, 1),
    Ipv4Addr::new(10, 0, 0, 1),
    Ipv4Addr::new(172, 16, 0, 1),
];

/// The addresses by which others in the home network reach this computer, the one on the way to most others first.
///
/// The system is asked which of its addresses it would use towards several others; nothing is sent to them.
pub fn home_addresses() -> Vec<Ipv4Addr> {
    let mut found = Vec::new();
    for other in BEYOND {
        let Some(own) = towards(other).filter(|own| is_at_home(*own) && !own.is_loopback()) else { continue };
        if !found.contains(&own) {
            found.push(own);
        }
    }
    found
}

fn towards(other: Ipv4Addr) -> Option<Ipv4Addr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
    socket.connect((other, 9)).ok()?;
    match socket.local_addr().ok()? {
        SocketAddr::V4(own) => Some(*own.ip()),
        SocketAddr::V6(_) => None,
    }
}

/// Whether an address is one of a network at home, which the internet does not reach.
///
/// # Source
/// RFC 1918, section 3 (private); RFC 3927, section 2.1 (link-local); RFC 6598, section 7 (shared); RFC 1122, 3.2.1.3
/// (loopback).
pub fn is_at_home(address: Ipv4Addr) -> bool {
    let [first, second, ..] = address.octets();
    let shared = first == 100 && (64..128).contains(&second);
    address.is_private() || address.is_link_local() || address.is_loopback() || shared
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_addresses_of_a_network_at_home_are_heard_on() {
        for (address, at_home) in [
            ("192.168.1.20", true),
            ("10.1.2.3", true),
            ("172.16.0.1", true),
            ("172.31.255.1", true),
            ("169.254.7.7", true),
            ("100.64.0.1", true),
            ("127.0.0.1", true),
            ("172.32.0.1", false),
            ("100.128.0.1", false),
            ("0.0.0.0", false),
            ("255.255.255.255", false),
            ("8.8.8.8", false),
            ("203.0.113.7", false),
        ] {
            assert_eq!(is_at_home(address.parse().unwrap()), at_home, "{address}");
        }
        assert!(home_addresses().iter().all(|own| is_at_home(*own) && !own.is_loopback()));
    }
}
