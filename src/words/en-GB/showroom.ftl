# What the public reads of a piece.

offer-for-sale = For sale
offer-reserved = Reserved
offer-reserved-until = Reserved until { $day }
offer-to-be-collected = Sold, to be collected
offer-sold = Sold
offer-in-the-workshop = In the workshop
