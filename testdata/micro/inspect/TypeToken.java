package inspect;

import java.lang.reflect.ParameterizedType;
import java.util.List;

/*
 * A library asks an object for the type arguments of its superclass.
 * source: Java SE API ParameterizedType.getActualTypeArguments
 * effect: breaks
 * packed: yes
 * library: Token
 */
public class TypeToken {
    public abstract static class Token<T> {
        public String name() {
            ParameterizedType own = (ParameterizedType) getClass().getGenericSuperclass();
            ParameterizedType argument = (ParameterizedType) own.getActualTypeArguments()[0];
            return argument.getActualTypeArguments()[0].getTypeName();
        }
    }

    public static void main(String[] args) {
        System.out.println(new Token<List<java.sql.Timestamp>>() { }.name());
    }
}
