//! What the showroom needs besides its pieces: an address, a lead piece, a way to ask, links that lead somewhere.

rules! {
    contact_without_link,
    lead_not_for_sale,
    lead_unknown,
    link_without_page,
    no_contact,
    unsound_address,
}
