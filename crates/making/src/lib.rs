//! How each part is made in this shop.
