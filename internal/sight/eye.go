package sight

// eye is what a reader has learnt of one table in one light.
type eye struct{}
