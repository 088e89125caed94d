// Depth only.
void main() {}
