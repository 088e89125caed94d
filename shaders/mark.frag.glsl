in vec4 shade;

out vec4 fragment;

void main() {
  fragment = vec4(shade.rgb * shade.a, shade.a);
}
