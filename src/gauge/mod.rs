//! Pressures to loss: the rig taken off, flow, equivalent hole.
